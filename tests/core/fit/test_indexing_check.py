"""The check of indexing: its statuses at the limits, what it asks for, and what families say beside it.

Expected travel and error by hand: pull x ratio - pitch, added up from the cog where the cable is set.
"""

import json
from pathlib import Path
from typing import Any

import pytest

from cogwright.core.fit.check import Check, Status
from cogwright.core.parts.bin import SmallPart
from cogwright.core.parts.which_fit import SprocketPlace, edit_for, fits
from cogwright.core.setup.edits import Together
from cogwright.core.setup.model import Setup
from cogwright.core.study import study
from cogwright.present.lines import ASCII, Look, plain, width
from cogwright.present.report.fit_data import indexing_json
from cogwright.present.views.fit import fit_lines
from cogwright.store.documents import to_toml
from support import called, make

#: Five cogs 4 mm apart, the cable set on the middle one: two clicks of error either way.
COGS = (11, 13, 15, 17, 19)


def bike(pull: Any = 2.0, ratio: Any = 2.0, pitch: Any = 4.0, **more: Any) -> Setup:
    facts: dict[str, Any] = {
        "rear": {"cog_pitch_mm": pitch},
        "shifters": {"pull_mm": pull},
        "rear_derailleur": {"shift_ratio": ratio},
    }
    for table, keys in more.items():
        facts[table] = facts.get(table, {}) | keys
    known = {name: {k: v for k, v in table.items() if v is not None} for name, table in facts.items()}
    return make((40,), COGS, **known)


def check(of: Setup, name: str = "indexing") -> Check | None:
    return {c.check: c for c in study(of).fit}.get(name)


@pytest.mark.parametrize(
    ("pull", "status"),
    [
        (2.0, Status.OK),
        (2.19, Status.OK),  # two clicks of 0.38 mm: 19 % of 4 mm
        (2.2, Status.CAUTION),  # 0.8 mm is just a fifth
        (2.33, Status.CAUTION),  # 33 %
        (2.34, Status.PROBLEM),  # 34 %
        (1.66, Status.PROBLEM),
    ],
)
def test_a_fifth_and_a_third_of_a_pitch(pull: float, status: Status) -> None:
    found = check(bike(pull))
    assert found is not None
    assert (found.status, found.limit, found.unit, found.default) == (status, 20.0, "% pitch", True)
    assert found.figure == pytest.approx(100 * 2 * abs(pull * 2.0 - 4.0) / 4.0, abs=1e-5)


def test_the_setup_can_set_other_limits() -> None:
    found = check(bike(2.34, limits={"index_error_pct": [35, 40]}))
    assert found is not None
    assert (found.status, found.limit, found.default) == (Status.OK, 35.0, False)


def test_it_says_where_to_set_it_which_is_worst_and_what_it_wants() -> None:
    found = check(bike(2.5))
    assert found is not None
    assert "set on cog 15, cog 11 is off most, -2.00 mm" in found.say
    # By hand: 16 mm of gaps; 4 clicks of 2.5 x 2 mm make 20.
    assert "2.00 mm of cable a click, a ratio of 1.60 or a pitch of 5.00 mm" in found.say


def test_a_reciprocal_is_asked_about() -> None:
    found = check(bike(2.0, 0.5))
    assert found is not None
    assert "is 0.5 the reciprocal of 2.00?" in found.say


def test_what_is_not_given_is_asked_for() -> None:
    found = check(bike(ratio=None, pitch=None))
    assert found is not None
    assert found.status is Status.UNKNOWN
    assert found.say == "needs rear_derailleur.shift_ratio and rear.cog_pitch_mm in the setup"
    short = check(bike(pull=[2.0, 2.0]))
    assert short is not None
    assert short.say == "needs shifters.pull_mm with 4 figures (it has 2) in the setup"


def test_a_bike_that_says_nothing_of_cable_sees_no_line_of_it() -> None:
    assert check(bike(pull=None, ratio=None)) is None
    assert "Indexing" not in "".join(map(plain, fit_lines(study(bike(pull=None, ratio=None)), Look())))


MIXED = {"rear": {"family": "ten"}, "shifters": {"family": "nine"}, "rear_derailleur": {"family": "ten"}}


@pytest.mark.parametrize(
    ("pull", "status", "said"),
    [
        (2.0, Status.OK, "mixed (nine and ten), ok by the figures"),
        (2.3, Status.CAUTION, "doubtful by the figures"),
        (3.0, Status.PROBLEM, "by the figures it will not index"),
        (None, Status.PROBLEM, "it will not index; match them"),
    ],
)
def test_figures_decide_over_families(pull: float | None, status: Status, said: str) -> None:
    found = check(bike(pull, **MIXED), "spacing family")
    assert found is not None
    assert found.status is status
    assert said in found.say


@pytest.mark.parametrize("pull", [2.0, 2.3, 3.0])
def test_families_that_nobody_named_are_not_asked_for_where_the_figures_are_there(pull: float) -> None:
    found = check(bike(pull), "spacing family")
    assert found is not None
    assert found.status is Status.OK
    assert "the figures decide" in found.say


@pytest.mark.parametrize("cells", [30, 40, 63, 64, 71, 72, 80, 120])
def test_the_strip_has_a_row_a_cog_and_fits(cells: int) -> None:
    rows = fit_lines(study(bike(2.5)), Look(cells, glyphs=ASCII))
    assert max(map(width, rows)) <= cells
    text = [plain(row) for row in rows]
    drawn = {int(row.split()[0]): row for row in text if row.split()[:1] and row.split()[0] in map(str, COGS)}
    assert set(drawn) == set(COGS)
    assert all(row.isascii() for row in text)
    if cells >= 64:
        assert "set here" in drawn[15]
        assert "worst" in drawn[11]
        assert "towards the smaller cogs" in " ".join(" ".join(text).split())
        assert [drawn[n].split()[1] for n in COGS] == ["-2.00", "-1.00", "0.00", "+1.00", "+2.00"]


def test_the_strip_marks_each_cog_where_it_stands() -> None:
    rows = map(plain, fit_lines(study(bike(2.25)), Look(80, glyphs=ASCII)))
    named = [row for row in rows if row[:5].strip() in map(str, COGS)]
    drawn = {row.split()[0]: row[20:61] for row in named}
    # Right of the middle (cell 20) is inwards; 40 cells stand for a pitch: 0.5 mm of 4 is 5 cells.
    assert {teeth: strip.find("o") for teeth, strip in drawn.items() if "o" in strip} == {
        "13": 15,
        "15": 20,
        "17": 25,
    }
    assert {teeth: strip.find("!") for teeth, strip in drawn.items() if "!" in strip} == {"11": 10, "19": 30}


def test_json_names_it_indexing_and_gives_every_cog(tmp_path: Path) -> None:
    (tmp_path / "a.toml").write_text(to_toml(bike(2.5)))
    data = json.loads(called("report", "a.toml", "--format", "json", cwd=tmp_path).stdout)
    (found,) = [one for one in data["fit"] if one["check"] == "indexing"]
    assert (found["status"], found["figure"]) == ("problem", 50.0)
    rear = data["indexing"]["rear"]
    assert (rear["set_on"], rear["worst"], rear["missing"]) == (15, 11, [])
    assert [one["off_mm"] for one in rear["per_sprocket"]] == [-2.0, -1.0, 0.0, 1.0, 2.0]
    assert data["indexing"]["front"] is None


def test_a_list_is_written_and_read_back() -> None:
    setup = bike([2.0, 2.5, 2.5, 2.0], pitch=[4.0, 4.5, 4.0, 4.0])
    assert "pull_mm = [2, 2.5, 2.5, 2]" in to_toml(setup)
    assert Setup.model_validate(setup.model_dump()) == setup


def test_front_reach_smallest_difference_and_curve() -> None:
    front: dict[str, Any] = {
        "reach_mm": 16.0, "smallest_difference": 10, "curve_teeth": [44, 50], "shift_ratio": 2.0,
    }  # fmt: skip

    def of(rings: tuple[int, ...], **changed: Any) -> dict[str, Status]:
        crank = {"ring_spacing_mm": 8.0}
        setup = make(rings, COGS, crank=crank, front_derailleur=front | changed)
        return {c.check: c.status for c in study(setup).fit}

    good = of((26, 36, 48))  # 16 mm across three rings of 8 mm; differences of 10 and 12
    assert (good["cage reach"], good["ring difference"], good["cage curve"]) == (Status.OK,) * 3
    assert good["front indexing"] is Status.UNKNOWN
    assert of((26, 36, 48), reach_mm=15.9)["cage reach"] is Status.PROBLEM
    assert of((27, 36, 48))["ring difference"] is Status.CAUTION
    assert of((24, 34, 52))["cage curve"] is Status.CAUTION
    assert of((22, 32, 43))["cage curve"] is Status.CAUTION
    assert not {"cage reach", "ring difference", "cage curve", "front indexing"} & of((40,)).keys()


def test_indexing_json_says_what_is_missing() -> None:
    data = indexing_json(study(bike(ratio=None)))
    assert data["rear"] is not None
    assert data["rear"]["missing"] == ["rear_derailleur.shift_ratio"]  # type: ignore[index]
    assert data["rear"]["per_sprocket"] == []  # type: ignore[index]


def test_the_right_shifter_out_of_the_bin_makes_it_index() -> None:
    bench = bike(2.5, rear={"clicks": 5})
    part = SmallPart(name="shifter, 5 clicks", kind="rear shifter", clicks=5, pull_mm=2.0)
    place = SprocketPlace("cog", 15)
    edit = edit_for(part, bench, place)
    assert isinstance(edit, Together)
    found = check(edit.apply(bench))
    assert found is not None
    assert found.status is Status.OK
    assert fits(part, study(bench), place) == ()
    other = SmallPart(name="shifter, 5 clicks", kind="rear shifter", clicks=5, pull_mm=3.0)
    assert any("does not index" in why for why in fits(other, study(bench), place))
