"""The Ride view: what it says is true, fits its width, and is drawn to scale."""

import json
import re
import unicodedata
from pathlib import Path

import pytest
from hypothesis import given, settings

from cogwright.core.riding.course import Course, Piece, from_pieces, from_points
from cogwright.core.riding.course_ride import on_course
from cogwright.core.riding.grades import ride_of
from cogwright.core.riding.rider_fields import RIDER_FIELDS
from cogwright.core.setup.model import Setup
from cogwright.core.study import Study, study
from cogwright.present.lines import ASCII, UNICODE, Look, plain, width
from cogwright.present.panels.rider_table import rider_row, usual_lines
from cogwright.present.report.ride_data import ride_json, shifting_json
from cogwright.present.views.profile import MARKS, profile_lines
from cogwright.present.views.ride import RideState, ride_lines, ride_page
from cogwright.store.courses import course_files, read_course
from strategies import setups
from support import ROOT, called, long_cases, long_run, make

SETUPS = ROOT / "setups"
TRIAL, BASE = SETUPS / "yard-1-second-trial.toml", SETUPS / "yard-1-two-rings.toml"
HAUSE = SETUPS / "courses" / "crook-hause.toml"
WIDTHS = (40, 63, 64, 80, 120, 200)
PASS = from_pieces("A pass", [Piece(2000.0, 0.05), Piece(1000.0, 0.12), Piece(2500.0, -0.07)], 100.0)


def said(of: Study, look: Look | None = None, course: Course | None = None) -> str:
    """The whole view as text."""
    return "\n".join(map(plain, ride_lines(of, look or Look(), course)))


def narrow(text: str, glyphs: object) -> bool:
    """Whether each character takes one cell anywhere, and is ASCII where that is asked for."""
    return all(
        unicodedata.east_asian_width(c) in {"N", "Na"} and (glyphs is UNICODE or c.isascii()) for c in text
    )


@pytest.mark.long(cases=0)
@pytest.mark.parametrize("cells", long_cases(WIDTHS, 2))
@pytest.mark.parametrize("glyphs", [UNICODE, ASCII], ids=lambda g: g.name)
def test_no_line_is_wider_than_its_room(cells: int, glyphs: object) -> None:
    look = Look(cells, glyphs=glyphs)  # type: ignore[arg-type]
    bikes = [
        make((28, 42), (11, 15, 21, 30)),
        make((44,), (18,)),
        make((42,), (19,), rear={"hub_ratios": [0.7, 1, 1.4]}),
    ]
    for bench in bikes:
        for course in (None, PASS, *map(read_course, course_files(SETUPS))):
            lines = ride_lines(study(bench, bikes[0]), look, course)
            assert max(map(width, lines)) <= cells
            assert narrow("".join(map(plain, lines)), glyphs)


def test_lost_range_in_a_riders_words() -> None:
    """test_effort holds the grades; 42/11 and 36/11 * 2 m * 105 rpm are 48.1 and 41.2 km/h by hand."""
    bench, base = make((36,), (11, 28), rollout_mm=2000), make((36, 42), (11, 34), rollout_mm=2000)
    text = said(study(bench, base))
    before, now = ride_of(study(base)), ride_of(study(bench))
    assert (
        f"Steepest all day {now.steepest_pct:.1f} % (was {before.steepest_pct:.1f}), for 3 minutes "
        f"{now.steepest_short_pct:.1f} % (was {before.steepest_short_pct:.1f})."
    ) in text
    assert now.steepest_pct < before.steepest_pct
    assert now.steepest_short_pct < before.steepest_short_pct
    assert "You spin out at 41 instead of 48 km/h." in text
    assert next(row for row in text.splitlines() if row.endswith("lost")).split()[0] == "36x34"


def test_gained_and_kept_ends_are_said_so() -> None:
    bench, base = make((36,), (11, 34), rollout_mm=2000), make((36,), (11, 28), rollout_mm=2000)
    rides = ride_of(study(bench)), ride_of(study(base))
    assert f"Steepest all day {rides[0].steepest_pct:.1f} % (was {rides[1].steepest_pct:.1f})" in said(
        study(bench, base)
    )
    assert "as before" in said(study(bench, base))
    held, briefly = rides[1].steepest_pct, rides[1].steepest_short_pct
    same = f"{held:.1f} % as before, for 3 minutes {briefly:.1f} % as before"
    assert same in said(study(base, base))
    assert f"Steepest all day {rides[1].steepest_pct:.1f} %, for 3 minutes" in said(study(base))


def test_a_grade_that_the_chain_does_not_reach_is_a_promise() -> None:
    """A chain far too short for the largest pair: the gear is named, and ridden without."""
    bench = make((36,), (11, 28, 45), frame={"chainstay_mm": 440}, chain={"links": 104})
    text = said(study(bench), course=PASS)
    assert "Only with a longer chain: this one is too short for 36x45." in text
    assert "The bench rides without 36x45: the chain is too short for it." in text
    assert "36x11" not in text.split("Only with a longer chain")[1].split(".")[0]
    mended = make((36,), (11, 28, 45), frame={"chainstay_mm": 440}, chain={"links": 114})
    assert "chain" not in said(study(mended), course=PASS).split("Assumed")[0]


def test_assumptions_model_and_accuracy_are_on_screen() -> None:
    text = " ".join(said(study(make((36,), (11, 28)))).split())
    for part in ("72 + bike 14 + load 0 = 86 kg", "190 W", "60 / 85 / 105 rpm", "0.4 m2", "1.225 kg/m3"):
        assert part in text
    assert "An estimate: the same power all the way" in text
    assert "standard error of 2.7 W" in text


def test_totals_stay_in_sight_over_the_profile() -> None:
    page = ride_page(study(make((28, 42), (11, 15, 21, 30)), make((34,), (13, 28))), Look(), RideState(PASS))
    head = [plain(row) for row in page.head]
    assert head[-2].split()[0] == "bench"
    assert head[-1].split()[0] == "baseline"
    assert len(head) <= 6
    assert "100 m" in plain(page.rows[6])


@pytest.mark.parametrize("glyphs", [UNICODE, ASCII], ids=lambda g: g.name)
@pytest.mark.parametrize("cells", [40, 80, 160])
def test_profile_is_drawn_to_scale(glyphs: object, cells: int) -> None:
    """Heights read back from the drawn dots agree with the road to within one dot."""
    bench = make((36,), (11, 28))
    look, rows = Look(cells, glyphs=glyphs), 8  # type: ignore[arg-type]
    drawn = [
        plain(row).ljust(cells)[9:] for row in profile_lines(on_course(study(bench), PASS), look, rows)[:rows]
    ]
    columns, dots = cells - 10, 4 if glyphs is UNICODE else 2
    low, high = 100.0, max(PASS.heights_m)
    for column in range(columns):
        filled = sum(_dots(row[column], dots) for row in drawn)
        height = PASS.height_at((column + 0.25) / columns * PASS.length_m)
        expected = (height - low) / (high - low) * (rows * dots - 1) + 1
        slope = PASS.length_m / columns * 0.12 / (high - low) * rows * dots
        assert abs(filled - expected) <= 1.0 + slope


def _dots(cell: str, most: int) -> int:
    """Filled dots of a cell's left column."""
    if most == 2:
        return {" ": 0, ASCII.base_bar_half: 1, ASCII.base_bar: 2}[cell]
    bits = ord(cell) - 0x2800 if cell != " " else 0
    return sum(bool(bits & bit) for bit in (0x40, 0x04, 0x02, 0x01))


@pytest.mark.parametrize(("wheel", "marked"), [(2100, {"g"}), (2205, {"t", "w"})])
def test_what_the_legs_do_is_marked_under_the_road_where_it_is(wheel: int, marked: set[str]) -> None:
    """In text, so that it reads without colour: g under the wall, or t and w where that goes no more."""
    bench = make((34,), (13, 28), rollout_mm=wheel)
    lines = [
        plain(row) for row in profile_lines(on_course(study(bench, bench), PASS), Look(80, glyphs=ASCII), 7)
    ]
    marks = next(row for row in lines if "bench" in row).ljust(80)[9:79]
    ride = on_course(study(bench), PASS).bench
    for column, mark in enumerate(marks):
        at = (column + 0.5) / 70 * PASS.length_m
        piece = max(i for i, start in enumerate(PASS.starts_m[:-1]) if start <= at)
        near_edge = min(abs(at - edge) for edge in PASS.starts_m) < PASS.length_m / 70
        if not near_edge and piece != 2:  # the fall is entered at a climb's speed: not one thing all along
            there = [m for legs, m in MARKS.items() if ride.motion.by_legs[legs][piece] > 1.0]
            assert mark == " " if not there else mark in there
    assert set(marks) == marked | {" "}
    assert next(row for row in lines if "baseline" in row)[9:] == marks.rstrip()


def test_the_scale_says_where_each_kilometre_is() -> None:
    course = from_points("ten", [(0.0, 0.0), (10_000.0, 10.0)])
    row = plain(profile_lines(on_course(study(make((36,), (11,))), course), Look(109), 5)[5])[9:]
    assert [int(row.index(f"{km}")) for km in (2, 4, 6, 8)] == [19, 39, 59, 79]


def test_time_bars_are_to_scale_and_times_add_up() -> None:
    """Bars of bench and baseline share one scale; the times printed sum to the totals printed."""
    bench, base = make((28, 42), (11, 13, 15, 18, 21, 25, 30)), make((36,), (11, 13, 15, 18, 21, 25, 30))
    on = on_course(study(bench, base), PASS)
    lines = said(study(bench, base), Look(80, glyphs=ASCII), PASS).splitlines()
    start = next(i for i, row in enumerate(lines) if "time in gear" in row) + 1
    rows = lines[start : lines.index(next(r for r in lines[start:] if r.startswith(" Heights")))]
    total = [0, 0]
    longest = max(s for ride in (on.bench, on.baseline) if ride for _, s in ride.time_in_gear)
    for row in rows:
        for side, mark in ((0, "="), (1, ":")):
            cell = row[10 + 35 * side : 10 + 35 * (side + 1)]
            if ":" not in cell[24:]:
                continue
            hours, minutes, seconds = map(int, cell[24:].split(":"))
            spent = 3600 * hours + 60 * minutes + seconds
            total[side] += spent
            assert cell[:24].count(mark) == pytest.approx(24 * spent / longest, abs=1.01)
    for side, ride in enumerate((on.bench, on.baseline)):
        assert ride is not None
        pedalled = ride.total_s - ride.rolling_s - ride.walking_s
        assert total[side] == pytest.approx(pedalled, abs=len(rows))


@pytest.mark.long
@settings(max_examples=long_run(60, 30))
@given(setups, setups)
def test_any_setup_can_be_ridden_and_shown(bench: Setup, base: Setup) -> None:
    """Nothing raises, nothing is infinite, nothing is too wide, whatever a file holds."""
    of = study(bench, base)
    for look in (Look(40, glyphs=ASCII), Look(100)):
        assert max(map(width, ride_lines(of, look, PASS))) <= look.width
    json.dumps([ride_json(of, PASS), shifting_json(of)], allow_nan=False)
    ride = on_course(of, PASS).bench
    pedalled = ride.total_s - ride.rolling_s - ride.walking_s
    assert sum(s for _, s in ride.time_in_gear) == pytest.approx(pedalled, abs=1e-6)
    assert ride.outside_s <= ride.total_s * (1 + 1e-9)


def test_rider_table_edits_what_it_shows() -> None:
    """Each row shows its value; a step and a choice give edits that change that value and no other."""
    bench = make((36,), (11, 28))
    for field in RIDER_FIELDS:
        shown = plain(rider_row(study(bench), field, Look()))
        assert f"{field.value(bench):.{field.digits}f} {field.unit}" in shown
        usual = [plain(row) for row in usual_lines(study(bench), field, Look())]
        assert all(any(choice.source in row for row in usual) for choice in field.usual)
        up = field.nudge(bench, up=True).apply(bench)
        assert field.value(up) == pytest.approx(field.value(bench) + field.step)
        others = [f for f in RIDER_FIELDS if f is not field]
        assert all(f.given(up) == f.given(bench) for f in others)
        assert up.model_copy(update={"rider": bench.rider}) == bench
        for choice in field.usual:
            assert field.usual_now(field.edit(bench, choice.value).apply(bench)) == choice


def test_positions_have_the_drag_areas_of_the_book() -> None:
    """Bicycling Science, table (grade A): 0.632, 0.400, 0.317 m2."""
    field = next(f for f in RIDER_FIELDS if f.key == "rider.cda_m2")
    assert [choice.value for choice in field.usual] == [0.632, 0.400, 0.317]


def test_a_cadence_out_of_order_is_refused_with_the_reason() -> None:
    from cogwright.core.common.errors import EditRefused

    bench = make((36,), (11, 28))
    happy = next(f for f in RIDER_FIELDS if f.label == "preferred cadence")
    with pytest.raises(EditRefused, match="cadences do not rise"):
        happy.edit(bench, 40.0).apply(bench)


#: The keys that scripts rely on. A key may be added, none renamed or dropped.
COURSE_KEYS = {"total_s", "grinding_s", "spinning_s", "front_shifts", "rear_shifts", "time_in_gear"}
TOP_KEYS = {"length_m", "climb_m", "steepest_pct", "total_s", "standing_s", "walking_s", "rolling_s"}


@pytest.mark.parametrize("course", [None, *course_files(SETUPS)], ids=lambda p: p.stem if p else "none")
def test_json_has_the_keys_that_scripts_rely_on(course: Path | None) -> None:
    more = ["--course", course] if course else []
    done = called("report", TRIAL, "--baseline", BASE, "--format", "json", *more)
    assert (done.returncode, done.stderr) == (0, "")
    found = json.loads(done.stdout)
    assert set(found["ride"]) >= {"assumptions", "per_gear", "course"}
    assert len(found["ride"]["per_gear"]) == len(found["gears"])
    for row, gear in zip(found["ride"]["per_gear"], found["gears"], strict=True):
        assert set(row) >= {"ring", "cog", "steepest_pct", "happy_kmh", "steepest_short_pct"}
        assert row["steepest_short_pct"] > row["steepest_pct"]
        assert (row["ring"], row["cog"]) == (gear["ring"], gear["cog"])
        assert row["happy_kmh"] == pytest.approx(gear["speed_kmh"], abs=1e-3)
    for row in found["shifting"]:
        assert set(row) >= {"ring", "cog", "front", "rear_clicks"}
        assert row["front"] in {-1, 0, 1}
    if course is None:
        assert found["ride"]["course"] is None
        assert found["course"] is None
        return
    ridden = found["ride"]["course"]
    assert set(ridden) >= COURSE_KEYS
    assert all(set(row) >= {"ring", "cog", "s"} for row in ridden["time_in_gear"])
    idle = ridden["rolling_s"] + ridden["walking_s"]
    assert sum(row["s"] for row in ridden["time_in_gear"]) + idle == pytest.approx(ridden["total_s"], abs=0.1)
    assert set(found["course"]) >= TOP_KEYS | COURSE_KEYS
    assert {key: found["course"][key] for key in ridden if key != "steepest_pct"} == ridden


def test_hub_clicks_are_the_rear_clicks_of_a_hub_gear() -> None:
    """With one cog the rear shifter is the hub's."""
    rows = shifting_json(study(make((42,), (19,), rear={"hub_ratios": [0.733, 1, 1.364]})))
    assert [row["rear_clicks"] for row in rows] == [0, 1, 1]


def test_report_in_text_rides_the_course(tmp_path: Path) -> None:
    done = called("report", TRIAL, "--baseline", BASE, "--course", HAUSE)
    assert done.returncode == 0
    assert "Crook Hause, from the yard and over" in done.stdout
    assert "time in gear, h:min:s, bench" in done.stdout
    broken = tmp_path / "x.gpx"
    broken.write_text("<!DOCTYPE gpx><gpx/>")
    done = called("report", TRIAL, "--course", broken)
    assert done.returncode == 1
    assert "document type" in done.stderr


def test_the_readmes_course_is_valid(tmp_path: Path) -> None:
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    [example] = [block for block in text.split("```")[1::2] if "[[pieces]]" in block]
    path = tmp_path / "a.toml"
    path.write_text(example.strip(), encoding="utf-8")
    assert read_course(path).name == "Crook Hause"


def test_a_high_screen_gets_a_higher_profile() -> None:
    of, look = study(make((36,), (11, 28))), Look()
    low, high = (ride_page(of, look.of_height(h), RideState(PASS)).rows for h in (24, 36))
    assert len(high) == len(low) + 4


def test_a_stretch_has_the_name_of_its_steepest_piece() -> None:
    road = from_pieces("A pass", [Piece(900.0, 0.10, "the bends"), Piece(400.0, 0.14, "the ladder")])
    bench = make((34,), (13, 28))
    assert "the ladder" in said(study(bench), course=road)
    ridden = ride_json(study(bench), road)["course"]
    assert [ridden[what][0]["place"] for what in ("grinding", "standing")] == [  # type: ignore[index]
        "the bends",
        "the ladder",
    ]


@pytest.mark.parametrize("cells", [40, 80])
def test_a_gear_and_its_bar_stand_apart(cells: int) -> None:
    """A hub gear's name is the longest there is."""
    bench = make((42,), (19,), rear={"hub_ratios": [0.7, 1, 1.4]})
    rows = said(study(bench), Look(cells, glyphs=ASCII)).splitlines()
    gears = [row for row in rows if row.startswith(" 42x19 h")]
    assert len(gears) == 2 * 3, "grades and speeds"
    assert all(row[9] == " " for row in gears)


def test_a_hub_gear_does_not_pass_for_a_derailleur_chain() -> None:
    hubs = {"hub_ratios": [0.7, 1, 1.4]}
    assert "drive efficiency 95 %" in " ".join(said(study(make((42,), (19,), rear=hubs))).split())
    given = make((42,), (19,), rear=hubs, rider={"chain_efficiency": 0.93})
    assert "drive efficiency 93 %" in " ".join(said(study(given)).split())
    assert "a hub gear" not in said(study(make((42,), (19,))))


def test_times_have_their_unit() -> None:
    """One form of time: hours, minutes and seconds, with the unit in a line and over a column."""
    text = said(study(make((34,), (13, 28)), make((34, 50), (11, 28))), course=PASS)
    assert " h:min:s " in text
    assert "time in gear, h:min:s, bench" in text
    rows = [row for row in text.splitlines() if row.startswith((" bench grinding", " bench standing"))]
    assert rows
    assert all(re.search(r" \d:\d\d:\d\d h  ", row) and row.rstrip().endswith("rpm") for row in rows)


def test_every_stretch_is_told_for_bench_and_baseline() -> None:
    """Two hills far apart, two gentle falls: each is a line, under the bench and under the baseline."""
    road = [Piece(800.0, 0.09), Piece(2900.0, -0.015), Piece(700.0, 0.095), Piece(2900.0, -0.015)]
    bench, base = make((28,), (17, 24), rollout_mm=2100), make((29,), (17, 24), rollout_mm=2100)
    rows = said(study(bench, base), course=from_pieces("x", road)).splitlines()
    for what in ("grinding", "spinning"):
        for name in ("bench", "baseline"):
            assert sum(row.startswith(f" {name} {what}  ") for row in rows) == 2, (name, what)
