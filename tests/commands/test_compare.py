"""Candidates side by side from the command line: figures, words, what is used, what cannot be compared."""

import csv
import io
import json
import shutil
from pathlib import Path
from typing import Any

import pytest

from bikes import bike
from cogwright.core.common.safe_text import cells
from cogwright.core.comparing.columns import SideBySide, column_of, side_by_side
from cogwright.core.comparing.naming import candidate_names, changed_name, what_differs
from cogwright.core.fit.check import Status
from cogwright.core.setup.model import Setup
from cogwright.core.study import study
from cogwright.present.lines import Look, plain, width
from cogwright.present.views.compare import compare_lines
from cogwright.store.bins import read_bin
from cogwright.store.documents import read_setup, to_toml
from support import ROOT, called, make

SETUPS = ROOT / "setups"
BASE, FIRST, SECOND = (SETUPS / f"yard-1-{n}.toml" for n in ("two-rings", "first-trial", "second-trial"))
COURSE = SETUPS / "courses" / "crook-hause.toml"
KEYS = {
    "name", "file", "rings", "cogs", "low_m", "high_m", "range_pct", "distinct", "jumps", "worst_step_pct",
    "steepest_pct", "course_s", "fit", "parts_cost", "labour_cost", "total",
}  # fmt: skip


def found(*args: object) -> dict[str, object]:
    done = called("compare", *map(str, args), "--format", "json")
    assert (done.returncode, done.stderr) == (0, "")
    document: dict[str, object] = json.loads(done.stdout)
    return document


def test_json_has_the_keys_that_scripts_rely_on() -> None:
    document = found(FIRST, SECOND)
    assert document["format"] == 1
    assert document["baseline"]["file"] == str(BASE)  # type: ignore[index]
    assert len(document["candidates"]) == 2  # type: ignore[arg-type]
    for one in document["candidates"]:  # type: ignore[attr-defined]
        assert one.keys() >= KEYS
        assert one["course_s"] is None


def test_what_only_some_bikes_have_is_in_words_and_in_data(tmp_path: Path) -> None:
    """40x21 on a hub that permits 2: 1.905 by hand, and the bike without a hub has nothing to say of it."""
    rear = {"hub_ratios": [1.0, 1.5], "least_ratio": 2.0}
    (tmp_path / "hub.toml").write_text(to_toml(make([40], [21], rear=rear)))
    (tmp_path / "plain.toml").write_text(to_toml(make([40], [21])))
    one, other = found(tmp_path / "hub.toml", tmp_path / "plain.toml")["candidates"]  # type: ignore[misc]
    (fact,) = one["extra"]
    assert (fact["name"], fact["status"], fact["unit"]) == ("hub torque", "problem", "ring to cog")
    assert fact["figure"] == pytest.approx(40 / 21, abs=1e-6)
    assert other["extra"] == []
    text = called("compare", str(tmp_path / "hub.toml"), str(tmp_path / "plain.toml")).stdout
    (row,) = [line for line in text.splitlines() if "hub torque" in line]
    assert "x 1.9 ring to" in row
    assert "x problem" in text


def test_figures_by_hand(tmp_path: Path) -> None:
    """40x20 and 40x16 on 2.000 m: 4.00 and 5.00 m, a step of 25 %, range 125 %; 42x21: 4.00 m."""
    (tmp_path / "was.toml").write_text(to_toml(make([42], [14, 21], rollout_mm=2000)))
    (tmp_path / "now.toml").write_text(to_toml(make([40], [16, 20], rollout_mm=2000, baseline="was.toml")))
    document = found(tmp_path / "now.toml")
    now, was = document["candidates"][0], document["baseline"]  # type: ignore[index]
    assert (now["low_m"], now["high_m"], now["range_pct"]) == (4.0, 5.0, 125.0)
    assert (now["worst_step_pct"], now["jumps"], now["distinct"]) == (25.0, 1, 2)
    assert (was["low_m"], was["high_m"]) == (4.0, 6.0)  # type: ignore[index]
    assert (now["parts_cost"], now["labour_cost"], now["total"]) == (None, None, None)  # no bin, no prices


def test_it_says_what_report_order_and_the_screen_say() -> None:
    """Figure by figure against the other commands, with the same baseline, bin and course."""
    document = found(FIRST, SECOND, "--course", COURSE)
    for one in document["candidates"]:  # type: ignore[attr-defined]
        report = json.loads(called("report", one["file"], "--course", COURSE, "--format", "json").stdout)
        order = json.loads(called("order", one["file"], "--format", "json").stdout)
        summary = report["summary"]
        assert (one["low_m"], one["high_m"]) == (summary["lowest_m"], summary["highest_m"])
        assert (one["range_pct"], one["distinct"]) == (summary["range_pct"], summary["distinct"])
        assert one["jumps"] == summary["jumps"]
        assert one["worst_step_pct"] == max(step["step_pct"] for step in report["rear_steps"])
        assert one["steepest_pct"] == report["ride"]["steepest_pct"]
        assert one["steepest_short_pct"] == report["ride"]["steepest_short_pct"]
        assert one["spin_out_kmh"] == report["ride"]["spin_out_kmh"]
        assert one["course_s"] == report["course"]["total_s"]
        assert one["grinding_s"] == report["course"]["grinding_s"]
        assert document["baseline"]["course_s"] == report["course"]["baseline_total_s"]  # type: ignore[index]
        assert (one["parts_cost"], one["labour_cost"]) == (order["parts_cost"], order["labour_cost"])
        assert (one["total"], one["mass_change_g"]) == (order["total"], order["mass_change_g"])


def test_the_baseline_among_the_files_is_not_a_candidate() -> None:
    document = found(FIRST, BASE, SECOND)
    assert [one["file"] for one in document["candidates"]] == [str(FIRST), str(SECOND)]  # type: ignore[attr-defined]


def test_without_a_baseline_in_common_it_says_so(tmp_path: Path) -> None:
    for name, base in (("a", "x.toml"), ("b", "y.toml")):
        (tmp_path / f"{name}.toml").write_text(to_toml(make([40], [16, 20], baseline=base)))
        (tmp_path / base).write_text(to_toml(make([42], [14, 21])))
    document = found(tmp_path / "a.toml", tmp_path / "b.toml")
    assert document["baseline"] is None
    assert "no baseline in common (a.toml: Test bike; b.toml: Test bike)" in document["used"][0]  # type: ignore[index]
    text = called("compare", tmp_path / "a.toml", tmp_path / "b.toml").stdout
    assert "--baseline FILE gives one" in " ".join(text.split())
    told = called("compare", tmp_path / "a.toml", tmp_path / "b.toml", "--baseline", tmp_path / "x.toml")
    assert "no baseline in common" not in told.stdout


def test_a_missing_baseline_and_a_missing_file_are_said(tmp_path: Path) -> None:
    (tmp_path / "a.toml").write_text(to_toml(make([40], [16, 20], baseline="gone.toml")))
    done = called("compare", tmp_path / "a.toml")
    assert done.returncode == 0
    assert "gone.toml" in done.stdout
    assert "there is no such file" in " ".join(done.stdout.split())
    done = called("compare", tmp_path / "a.toml", tmp_path / "none.toml")
    assert (done.returncode, done.stdout) == (1, "")
    assert "none.toml: there is no such file" in done.stderr


def test_seven_candidates_are_too_many(tmp_path: Path) -> None:
    files = []
    for n in range(7):
        files.append(tmp_path / f"{n}.toml")
        files[-1].write_text(to_toml(make([30 + n], [16, 20])))
    assert called("compare", *files).returncode == 2
    assert called("compare", *files[:6]).returncode == 0


def test_prices_of_several_currencies_are_not_set_against_each_other(tmp_path: Path) -> None:
    for folder, currency in (("one", "EUR"), ("two", "GBP")):
        shutil.copytree(SETUPS, tmp_path / folder, ignore=shutil.ignore_patterns("courses"))
        stock = tmp_path / folder / "bins" / "hollin-yard.toml"
        stock.write_text(stock.read_text().replace('"EUR"', f'"{currency}"'))
    files = [tmp_path / "one" / FIRST.name, tmp_path / "two" / SECOND.name]
    args = (*files, "--baseline", tmp_path / "one" / BASE.name)
    text = called("compare", *args).stdout
    assert "Prices are in EUR and GBP: sums are not set against each other." in " ".join(text.split())
    total = next(row for row in text.splitlines() if row.startswith(" total"))
    assert "EUR" in total
    assert "GBP" in total
    assert "*" not in total
    assert "*" in next(row for row in text.splitlines() if row.startswith(" highest m"))


def test_other_wheels_and_other_riders_are_said() -> None:
    base = make([42], [14, 21])
    small = make([42], [14, 21], size="50-559", rider={"mass_kg": 60})
    rows = [plain(row) for row in compare_lines(side_by_side(base, [small, base]), Look(100))]
    told = " ".join(" ".join(rows).split())
    assert "The wheels differ (40-622 and 50-559): compare metres, not teeth." in told
    assert "The riders differ" in told


def test_the_best_of_a_row_is_marked_in_text_and_alike_ones_are_not() -> None:
    """42x21 and 42x14 against 42x28: lower is better at the low end; both have the same high end."""
    of = side_by_side(make([42], [14, 21]), [make([42], [14, 28])])
    rows = {row[:16].strip(): row for row in map(plain, compare_lines(of, Look(80)))}
    assert rows["lowest m"].endswith("*")
    assert "*" not in rows["highest m"]


def candidates(count: int) -> list[Setup]:
    """So many candidates of the demo's tourer, with as many cogs as a bike may have."""
    base = read_setup(FIRST).value
    return [
        base.model_copy(update={"crank": base.crank.model_copy(update={"rings": (32 + 2 * i,)})})
        for i in range(count)
    ]


@pytest.mark.parametrize(("count", "columns"), [(6, 120), (3, 80)])
def test_so_many_are_abreast(count: int, columns: int) -> None:
    base, stock = read_setup(BASE).value, read_bin(SETUPS / "bins" / "hollin-yard.toml").value
    of = side_by_side(base, candidates(count), None, [stock] * count)
    rows = [plain(row) for row in compare_lines(of, Look(columns))]
    assert max(map(cells, rows)) <= columns
    (head,) = [row for row in rows if row.split()[:2] == ["was", "A"]]
    assert head.split() == ["was", *"ABCDEF"[:count]]
    total = next(row for row in rows if row.startswith(" total"))
    assert total.count("EUR") + total.count("unknown") == count
    assert "~" not in "".join(row for row in rows if row.startswith((" total", " parts", " spins")))


def test_more_than_there_is_room_for_go_into_blocks_each_with_the_baseline() -> None:
    of = side_by_side(read_setup(BASE).value, candidates(6))
    for room in (80, 40):
        rows = compare_lines(of, Look(room))
        assert max(map(width, rows)) <= room
        heads = [
            plain(row).split()
            for row in rows
            if plain(row).split()[:1] == ["was"] and len(plain(row).split()) < 5
        ]
        assert {letter for head in heads for letter in head} >= {"was", *"ABCDEF"}


def test_names_say_what_differs() -> None:
    base = make([28, 42], [11, 13, 15, 30])
    assert what_differs(base, make([36], [11, 13, 15, 42])) == "36 ring, 11-42"
    assert what_differs(base, make([28, 42], [11, 13, 16, 30])) == "cog 16"
    assert what_differs(base, make([28, 42], [11, 13, 15, 30], size="50-559")) == "50-559"
    assert what_differs(base, base) == "as the baseline"
    longer = base.model_copy(update={"chain": base.chain.model_copy(update={"links": 112})})
    assert what_differs(base, longer) == "chain.links: 112, not given before"
    assert changed_name(base, make([40], [11, 13, 15, 30])) == "Test bike, 1x4, 40"
    assert changed_name(base, make([40], [11, 13, 15, 17, 42])) == "Test bike, 1x5, 40, 11-42"


def test_names_that_come_out_alike_are_told_apart() -> None:
    base = make([42], [11, 13, 15, 30])
    one, two = make([36], [11, 13, 15, 42]), make([36], [11, 14, 15, 42])
    names = candidate_names(base, [one, two])
    assert len(set(names)) == 2
    assert all(name.startswith("36 ring, 11-42, ") for name in names)


def test_hostile_text_stays_text(tmp_path: Path) -> None:
    """A formula, markup and an escape sequence in names come out as what they are."""
    bad = '=cmd|"/c x"!A1 <b>[x](http://y)</b>'
    (tmp_path / "was.toml").write_text(to_toml(make([42], [14, 21])))
    bench = make([40], [16, 20], baseline="was.toml").model_copy(update={"name": bad})
    (tmp_path / "a.toml").write_text(to_toml(bench))
    rows = list(csv.reader(io.StringIO(called("compare", tmp_path / "a.toml", "--format", "csv").stdout)))
    assert not rows[2][1].startswith("=")
    told = called("compare", tmp_path / "a.toml", "--format", "markdown").stdout
    assert "<b>" not in told.replace("\\<b>", "")
    assert (
        json.loads(called("compare", tmp_path / "a.toml", "--format", "json").stdout)["candidates"][0]["name"]
        == bad
    )


def test_where_facts_are_missing_the_fit_is_counted_as_the_fit_view_does_and_not_called_ok() -> None:
    bare = make((40,), (11, 13, 15))
    unknown = sum(check.status is Status.UNKNOWN for check in study(bare).fit)
    rows = map(plain, compare_lines(side_by_side(None, [bare]), Look(80)))
    (row,) = [row for row in rows if row.split()[:1] == ["fit"]]
    assert f"{unknown} unknown" in row
    assert "ok" not in row


def fit_row(of: SideBySide) -> str:
    (row,) = [row for row in map(plain, compare_lines(of, Look(100))) if row.split()[:1] == ["fit"]]
    return row


def test_what_is_not_known_of_a_fit_is_no_better_than_a_caution_and_no_worse() -> None:
    """Beside what cannot be judged no fit is the best: it may turn out either way."""
    straight: dict[str, Any] = {"limits": {"chain_angle_deg": 8.0}}
    sound, cautious = bike(**straight), bike()
    unknown, doubtful = bike(**straight, rear={"clicks": None}), bike(rear={"clicks": None})
    tallies = [column_of(one, None, None, None).tally for one in (sound, cautious, unknown, doubtful)]
    worst = [Status.OK, Status.CAUTION, Status.UNKNOWN, Status.CAUTION]
    assert [(one.worst, one.unknown) for one in tallies] == list(zip(worst, (0, 0, 1, 1), strict=True))
    assert "ok*" in fit_row(side_by_side(None, [sound, cautious]))
    for others in ([unknown, cautious], [sound, doubtful], [cautious, unknown, sound]):
        assert "*" not in fit_row(side_by_side(None, others))


def test_the_fit_with_the_parts_of_the_order_is_the_order_s_own() -> None:
    """The first trial's chain is short as its file stands; the order's is not, and one problem stays."""
    base, stock = read_setup(BASE).value, read_bin(SETUPS / "bins" / "hollin-yard.toml").value
    of = side_by_side(base, [read_setup(FIRST).value], None, [stock])
    (column,) = of.columns
    assert column.sheet is not None
    left = [check.check for check in study(column.sheet.after, base).fit if check.status is Status.PROBLEM]
    assert left == ["largest cog"]
    assert [text.split(":")[0] for text in column.sheet.problems] == left
    assert column.fit_with_parts is not None
    assert column.fit_with_parts[:2] == (Status.PROBLEM, 1)
    assert column.tally[:2] == (Status.PROBLEM, 3)
    one = found(FIRST)["candidates"][0]  # type: ignore[index]
    assert (one["fit"], one["fit_count"], one["fit_unknown"]) == ("problem", 3, 1)
    assert one["fit_with_parts"] == "problem"
    rows = [" ".join(plain(row).split()) for row in compare_lines(of, Look(100))]
    assert "with parts on - 1 problem" in rows
    assert "chain retention - 1 retainer" in rows
    assert any("as its file stands; order and hand-out judge it with its new parts on" in r for r in rows)
    same = [plain(row) for row in compare_lines(side_by_side(base, [base], None, [stock]), Look(100))]
    assert not any("parts on" in row for row in same), "nothing to tell where nothing is fitted"


def test_the_table_has_what_only_some_bikes_have_after_what_all_have(tmp_path: Path) -> None:
    """40x21 on a hub that permits 2: 1.905 by hand, a problem; empty cells for the bike without."""
    rear = {"hub_ratios": [1.0, 1.5], "least_ratio": 2.0}
    files = [tmp_path / "hub.toml", tmp_path / "plain.toml"]
    files[0].write_text(to_toml(make([40], [21], rear=rear)))
    files[1].write_text(to_toml(make([40], [21])))
    text = called("compare", *files, "--format", "csv").stdout
    one, other = csv.DictReader(io.StringIO(text))
    assert float(one["hub_torque"]) == pytest.approx(40 / 21, abs=1e-6)
    assert (one["hub_torque_unit"], one["hub_torque_status"]) == ("ring to cog", "problem")
    assert [value for name, value in other.items() if name.startswith("hub_torque")] == ["", "", ""]
    alone = called("compare", files[1], "--format", "csv").stdout.splitlines()[0].split(",")
    whole = text.splitlines()[0].split(",")
    assert [name for name in whole if not name.startswith("hub_torque")] == alone


def test_the_view_opens_with_who_is_best_at_what() -> None:
    """40x20 goes 4 m and 40x10 8 m on 2 m; 40x16 5 and 40x8 10 m; a step of 100 % in both."""
    low, high = make([40], [10, 20], rollout_mm=2000), make([40], [8, 16], rollout_mm=2000)
    both = side_by_side(None, [low, high])
    assert plain(compare_lines(both, Look(80))[0]) == " Lowest gear: A; highest: B."
    same = side_by_side(None, [low, low])
    assert plain(compare_lines(same, Look(80))[0]) == " Alike in gears and cost."
    alone = side_by_side(None, [low])
    assert plain(compare_lines(alone, Look(80))[0]) == " One jump: 20 to 10 (100.0 %)."
