"""What must hold of every setup, tried on setups that Hypothesis makes up."""

import itertools
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cogwright.core.common.errors import EditRefused
from cogwright.core.gears.gears import gears_of
from cogwright.core.setup.edits import AddSprocket, RemoveSprocket, ReplaceCassette, SetField, SetTeeth
from cogwright.core.setup.history import History
from cogwright.core.setup.model import Setup
from cogwright.core.setup.sprockets import Edit
from cogwright.core.study import study
from support import long_run, make

TEETH = st.integers(6, 130)
COGS = st.lists(st.integers(9, 60), min_size=1, max_size=13, unique=True)
RINGS = st.lists(st.integers(20, 64), min_size=1, max_size=3, unique=True)
HUBS = st.lists(st.sampled_from([0.527, 0.733, 1.0, 1.364, 1.615]), min_size=1, max_size=4, unique=True)
SETUPS = st.builds(lambda r, c, h: make(r, c, rear={"hub_ratios": h}), RINGS, COGS, HUBS)


@given(COGS, st.integers(20, 60), st.integers(20, 60))
def test_another_ring_scales_every_gear_and_leaves_the_steps(cogs: list[int], one: int, other: int) -> None:
    """On one ring: every development goes by other/one, every step stays."""
    before, after = study(make([one], cogs)), study(make([other], cogs))
    scale = other / one
    for old, new in zip(before.gears, after.gears, strict=True):
        assert new.development_m == pytest.approx(old.development_m * scale)
    old_steps, new_steps = ([s.step_pct for s in of.rear_steps] for of in (before, after))
    assert new_steps == pytest.approx(old_steps)


@given(st.permutations([11, 13, 15, 17, 19, 21, 24]), st.permutations([30, 39, 50]))
def test_the_order_in_the_file_does_not_matter(cogs: list[int], rings: list[int]) -> None:
    assert make(rings, cogs) == make(sorted(rings), sorted(cogs))


@given(SETUPS)
def test_gears_ascend_and_number_rings_by_cogs_by_hub_gears(setup: Setup) -> None:
    gears = gears_of(setup)
    developments = [g.development_m for g in gears]
    assert developments == sorted(developments)
    assert len(gears) == len(setup.crank.rings) * len(setup.rear.cogs) * len(setup.rear.hub_ratios)
    assert len({g.label for g in gears}) == len(gears)


@given(SETUPS)
def test_steps_multiply_up_to_the_range(setup: Setup) -> None:
    of = study(setup)
    product = math.prod(1 + (row.step_pct or 0) / 100 for row in of.rows)
    assert product * 100 == pytest.approx(of.summary.range_pct)


@given(SETUPS)
def test_overlap_groups_share_out_the_gears(setup: Setup) -> None:
    of = study(setup)
    assert tuple(itertools.chain.from_iterable(of.overlap_groups)) == of.gears
    assert 1 <= of.summary.distinct <= of.summary.gears


@given(SETUPS)
def test_nothing_is_lost_against_oneself(setup: Setup) -> None:
    found = study(setup, setup).comparison
    assert found is not None
    assert (found.low_change_pct, found.high_change_pct, found.worst_hole_pct) == (0, 0, 0)
    assert (found.lost_low, found.lost_high, found.gained_low, found.gained_high, found.holes) == ((),) * 5


@given(SETUPS, SETUPS)
def test_what_one_loses_the_other_gains(one: Setup, other: Setup) -> None:
    there, back = study(one, other).comparison, study(other, one).comparison
    assert there is not None
    assert back is not None
    assert there.lost_low == back.gained_low
    assert there.lost_high == back.gained_high
    assert (1 + there.low_change_pct / 100) * (1 + back.low_change_pct / 100) == pytest.approx(1)


WHERE = st.sampled_from(["ring", "cog"])
EDITS: st.SearchStrategy[Edit] = st.one_of(
    st.builds(SetTeeth, WHERE, TEETH, st.integers(0, 140)),
    st.builds(AddSprocket, WHERE, st.integers(0, 140)),
    st.builds(RemoveSprocket, WHERE, TEETH),
    st.builds(ReplaceCassette, COGS.map(tuple)),
    st.builds(SetField, st.just("chain.links"), st.one_of(st.none(), st.integers(0, 500))),
)


def close_to(setup: Setup) -> st.SearchStrategy[Edit]:
    """Edits that name sprockets which are there, so that most of them take effect."""
    cogs, rings = st.sampled_from(setup.rear.cogs), st.sampled_from(setup.crank.rings)
    return st.one_of(
        EDITS,
        st.builds(SetTeeth, st.just("cog"), cogs, TEETH),
        st.builds(SetTeeth, st.just("ring"), rings, TEETH),
        st.builds(RemoveSprocket, st.just("cog"), cogs),
    )


@pytest.mark.long
@settings(max_examples=long_run(60))
@given(SETUPS, st.data())
def test_undo_after_any_edits_restores_the_setup_exactly(setup: Setup, data: st.DataObject) -> None:
    """Then redo brings the last state back exactly; a refused edit leaves all as it was."""
    history = History(setup)
    for _ in range(data.draw(st.integers(1, 12))):
        edit = data.draw(close_to(history.now))
        before = history
        try:
            history = history.do(edit)
        except EditRefused:
            assert history == before
        assert Setup.model_validate(history.now.model_dump()) == history.now, "every state is a valid setup"
    last, edits = history.now, len(history.past)
    for _ in range(edits):
        history = history.undo()
    assert history.now == setup
    assert history.undo() == history
    for _ in range(edits):
        history = history.redo()
    assert history.now == last
