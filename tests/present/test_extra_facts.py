"""What a comparison and a hand-out get of facts that only some bikes have; each figure the check's own."""

import pytest

from bikes import DEMO, bike, check
from cogwright.core.fit.check import Status
from cogwright.core.fit.registry import CHECKS
from cogwright.core.motor.grades import assisted
from cogwright.core.study import study
from cogwright.present.extra_facts import COMPARED, TOLD, extra_facts, to_mind
from cogwright.store.documents import read_setup
from support import make


def test_a_bike_that_says_nothing_of_them_gets_nothing() -> None:
    assert extra_facts(study(bike())) == ()
    assert to_mind(study(bike())) == ()


def test_every_row_is_its_checks_own_figure() -> None:
    found = study(bike(wear={"chain_pct": 0.6}, rear={"least_ratio": 1.2}))
    rows = {row.name: row for row in extra_facts(found)}
    assert set(rows) == {"chain wear", "new on worn", "hub torque"}
    for name, row in rows.items():
        of = check(found, name)
        assert (row.figure, row.unit, row.status, row.say) == (of.figure, of.unit, of.status, of.say)


def test_a_motor_adds_the_steepest_grade_that_it_helps_up() -> None:
    found = study(make((42,), (11, 21, 32), motor={"crank_torque_nm": 60.0, "cutoff_kmh": 25.0}))
    (row,) = [row for row in extra_facts(found) if row.name == "grade with help"]
    assert row.figure == pytest.approx(max(one.helped_pct for one in assisted(found)))
    assert row.unit == "%"
    assert any("the law of the place wins" in said for said in to_mind(found))


def test_the_rider_is_told_what_is_not_ok_and_not_what_is() -> None:
    joint = {"joint_uses": 2, "joint_most_uses": 1}
    said = to_mind(study(bike(wear={"chain_pct": 0.9, "rings_state": "good"}, chain=joint)))
    assert [text.split(":")[0] for text in said] == ["joint again", "chain wear", "new on worn"]
    assert any(
        text.startswith("fixed wheel:") for text in to_mind(study(make((47,), (17,), rear={"fixed": True})))
    )
    belted = make((50,), (24,), belt={"pitch_mm": 11.0, "teeth": 116})
    assert any("tension as its maker states" in text for text in to_mind(study(belted)))


def test_every_name_is_that_of_a_check() -> None:
    """Each of the names comes out of some bike that gives the facts."""
    wear = {"chain_pct": 0.6, "rings_state": "worn"}
    joint = {"joint_uses": 2, "joint_most_uses": 1, "joint_cogs": 10, "cogs": 10, "most_load_n": 9000.0}
    rear = {"cog_pitch_mm": 3.8, "least_ratio": 1.2, "most_torque_nm": 200.0}
    derailleur = {
        "shift_ratio": 1.4,
        "b_gap_mm": 6.0,
        "b_gap_cog": 34,
        "cage_mm": 93.0,
        "capacity": None,
        "cage_drop_mm": 140.0,
    }
    many = bike(
        wear=wear, chain=joint, rear=rear, rear_derailleur=derailleur, crank={"length_mm": 170.0},
        shifters={"pull_mm": 2.7, "front_pull_mm": 4.0}, motor={"cutoff_kmh": 25.0},
        timing_chain={"stretch_pct": 0.3},
    )  # fmt: skip
    single = make((47,), (17,), rear={"fixed": True}, frame={"tensioner_links": 2.0})
    belted = make((50,), (24,), belt={"pitch_mm": 11.0, "most_offset_mm": 1.0})
    ring = bike((40,), crank={"retaining_teeth": True})
    names = {c.check for one in (many, single, belted, ring) for c in study(one).fit}
    assert {*COMPARED, *TOLD} <= names
    assert len(CHECKS) > len(TOLD)


def test_the_demos_bikes_that_have_them() -> None:
    def rows(name: str) -> dict[str, Status]:
        return {row.name: row.status for row in extra_facts(study(read_setup(DEMO / name).value))}

    assert rows("yard-2-camping.toml") == {"indexing": Status.PROBLEM}
    assert rows("yard-4-town.toml") == {"hub torque": Status.OK}
    assert rows("yard-7-pass.toml") == {}
