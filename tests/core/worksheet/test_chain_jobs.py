"""When the chain is kept, cut or changed, and to what length; by hand on a bike that takes 112 links."""

from typing import Any

import pytest

from bikes import COGS, bike, drawer
from cogwright.core.figures import Figures
from cogwright.core.parts.search import EMPTY
from cogwright.core.setup.model import Setup
from cogwright.core.worksheet.cassettes import Worth, cassette_change, swappable, swapped
from cogwright.core.worksheet.chain_changes import (
    _cut_words,
    _short_words,
    _width_of,
    _width_wanted,
    _within,
    cannot_stay,
    chain_change,
    needs_other_width,
    new_links,
    wanted_links,
)
from cogwright.core.worksheet.costing import costing
from cogwright.core.worksheet.sheet import Change, Job, Source
from cogwright.core.worksheet.stock import NotInStock, _bare, counted, from_stock, unknowns
from support import make

RULE = Figures(bike()).chain.fit_pitches


def job(bench: Setup, base: Setup) -> Change | None:
    return next(iter(chain_change(Figures(bench, base), base, EMPTY)), None)


def links(number: int | None, **facts: Any) -> Setup:
    return bike(chain={"links": number, **facts})


def test_the_rule_of_this_bike() -> None:
    """2 x 435 / 12.7 + 46 / 2 + 34 / 2 and 2 more are 110.5: cut to 112."""
    assert RULE == 112


@pytest.mark.parametrize(
    ("had", "has", "job_", "to"),
    [
        (112, 112, None, None),
        (110, 110, Job.NEW_CHAIN, 112),  # too short
        (112, 114, Job.NEW_CHAIN, 114),  # a longer one is asked for
        (114, 112, Job.CUT_CHAIN, 112),
        (116, 112, Job.CUT_CHAIN, 112),
        (114, 114, None, None),  # over the rule, and does not hang
        (130, 130, Job.CUT_CHAIN, 112),  # hangs slack
        (None, None, None, None),
        (None, 112, None, None),
        (114, None, None, None),
    ],
)
def test_what_becomes_of_the_chain(
    had: int | None, has: int | None, job_: Job | None, to: int | None
) -> None:
    found = job(links(has), links(had))
    assert (found and found.job) == job_
    if found:
        assert found.chain is not None
        assert found.chain.links == to


@pytest.mark.parametrize(
    ("had", "own", "cut_to"),
    [
        (110, 110, 112),
        (110, 112, 112),
        (110, 114, 114),
        (110, 113, 112),
        (110, 108, 112),
        (110, 130, 112),
        (None, None, 112),
    ],
)
def test_a_new_chain_is_cut_to_the_rule_or_to_a_length_of_its_own_that_keeps_it(
    had: int | None, own: int | None, cut_to: int
) -> None:
    assert new_links(Figures(links(own)), had) == cut_to


def test_without_a_stay_nobody_can_say_but_the_file() -> None:
    bare = bike(frame={"chainstay_mm": None}, chain={"links": 114})
    assert new_links(Figures(bare), 112) == 114
    assert new_links(Figures(bare), 114) is None
    assert wanted_links(Figures(bare), 110) == 114
    assert wanted_links(Figures(links(None)), 110) == 112
    assert wanted_links(Figures(links(None)), None) is None


@pytest.mark.parametrize(
    ("had", "has", "other"),
    [(5.5, 5.5, False), (5.5, 5.6, True), (5.5, None, False), (None, 5.5, False), (5.7, None, True),
    (None, None, False),
     (5.0, None, False)],
)  # fmt: skip
def test_a_chain_of_another_width_with_as_many_cogs(
    had: float | None, has: float | None, other: bool
) -> None:
    """With 11 cogs 5.5 to 5.6 mm go (P); a narrow one stays on."""
    base, bench = links(112, outer_width_mm=had), links(112, outer_width_mm=has)
    assert needs_other_width(Figures(bench, base), base) is other
    assert cannot_stay(Figures(bench, base), base) is other


@pytest.mark.parametrize(
    ("had", "other"), [(5.6, True), (6.6, False), (6.7, False), (6.8, True), (None, True)]
)
def test_a_chain_for_fewer_cogs(had: float | None, other: bool) -> None:
    """With nine cogs 6.6 to 6.7 mm go (P)."""
    base = links(112, outer_width_mm=had)
    bench = bike(cogs=COGS[:3] + COGS[5:], chain={"outer_width_mm": None}, rear={"clicks": 9})
    assert needs_other_width(Figures(bench, base), base) is other
    single = bike((46,), (17,), chain={"outer_width_mm": None}, rear={"carriers": None})
    assert not needs_other_width(Figures(single, base), base)


@pytest.mark.parametrize(("made_for", "goes"), [(11, False), (12, False), (10, True), (13, True)])
def test_a_chain_that_is_made_for_other_cogs_goes(made_for: int, goes: bool) -> None:
    """One made for a cog more often runs (P)."""
    setup = links(112, cogs=made_for)
    assert cannot_stay(Figures(setup, setup), setup) is goes


def test_widths_within_a_band_and_that_of_a_new_chain() -> None:
    assert [_within(mm, (5.5, 5.6)) for mm in (5.49, 5.5, 5.6, 5.61)] == [False, True, True, False]
    assert _width_wanted(Figures(links(112, outer_width_mm=5.6))) == (5.6, 5.6)
    assert _width_wanted(Figures(links(112, outer_width_mm=7.0))) == (5.5, 5.6)
    assert _width_wanted(Figures(links(112, outer_width_mm=None))) == (5.5, 5.6)
    many = bike(cogs=tuple(range(11, 25)), chain={"outer_width_mm": 5.0}, rear={"carriers": None})
    assert _width_wanted(Figures(many)) == (5.0, 5.0)
    stock = drawer(chains=[{"links": 116, "outer_width_mm": 5.55}, {"links": 116}])
    assert [_width_of(part, (5.5, 5.6)) for part in (*stock.chains, None)] == [5.55, 5.5, 5.5]
    assert _width_of(None, None) is None


def test_what_is_said_of_a_new_chain() -> None:
    stock = drawer(chains=[{"links": 116, "mass_g": 232.0, "cogs": 11}, {"links": 112}])
    assert _cut_words(stock.chains[0], 112) == ["cut from 116 links"]
    assert (
        _cut_words(stock.chains[1], 112) == _cut_words(None, 112) == _cut_words(stock.chains[0], None) == []
    )
    base = links(110)
    assert _short_words(Figures(links(112), base), base) == ["the old one is 2 links short"]
    assert _short_words(Figures(links(112), links(112)), links(112)) == []
    only = drawer(chains=[{"links": 116, "mass_g": 232.0, "cogs": 11, "count": 1}])
    found = next(iter(chain_change(Figures(links(112), base), base, only)))
    assert found.on[0].mass_g == 224.0, "2 g a link"
    assert found.off[0].mass_g == 220.0
    assert found.chain is not None
    assert (found.chain.cogs, found.chain.outer_width_mm) == (11, 5.5)
    assert found.on[0].note == "cut from 116 links; the old one is 2 links short"


@pytest.mark.parametrize(("new", "swaps"), [(3, True), (4, False)])
def test_up_to_three_loose_pieces_are_swapped(new: int, swaps: bool) -> None:
    base = make((40,), (11, 13, 15, 17, 19)).rear
    assert swappable(base, base, new) is swaps
    assert swappable(make((40,), (17,)).rear, make((40,), (18,)).rear, 9)
    assert not swappable(base, make((40,), (11, 13)).rear, 1)
    other = base.model_copy(update={"family": "x"})
    assert swappable(base, other, 1)
    assert not swappable(base.model_copy(update={"family": "y"}), other, 1)


def test_pieces_that_leave_and_come() -> None:
    base = make((40,), (11, 13, 21, 23), rear={"carriers": [[21, 23]]}).rear
    bench = make((40,), (11, 14, 21, 24)).rear
    assert swapped(base, bench) == ([(13,), (21, 23)], [(14,), (21,), (24,)])
    assert swapped(base, base) == ([], [])
    assert cassette_change(base, base, EMPTY) is None
    renewed = cassette_change(base, base, EMPTY, renewed=True)
    assert renewed is not None
    assert renewed.job is Job.CASSETTE
    assert Worth(0, 1, 9.0, 3) < Worth(1, 0, 1.0, 1)


def test_parts_counted_out_of_a_bin_and_back() -> None:
    stock = drawer(cogs=[{"teeth": 15, "count": 2, "price": 5.0}, {"teeth": 16, "count": 1}])
    cog, other = stock.cogs
    assert [part.count for part in counted(stock, [cog, cog], -1).cogs] == [0, 1]
    assert [part.count for part in counted(stock, [cog, other], 1).cogs] == [3, 2]
    with pytest.raises(NotInStock, match="Not in the bin any more: part"):
        counted(stock, [other, other], -1)
    dearer = cog.model_copy(update={"price": 9.0, "count": 0, "mass_g": 3.0, "lead_days": 5})
    assert [part.count for part in counted(stock, [dearer], -1).cogs] == [1, 1]
    assert _bare(dearer) == _bare(cog)


def test_facts_that_nobody_wrote_down_in_the_order_of_the_sheet() -> None:
    base = bike(rear={"carriers": None})
    bench = bike(cogs=(11, 13, 15, 17, 18, 21, 23, 25, 28, 31, 34), rear={"carriers": None})
    for facts, lacking in (
        ({"count": 1}, ["price", "mass_g"]),
        ({}, ["price", "mass_g", "lead_days"]),
        ({"lead_days": 3}, ["price", "mass_g"]),
        ({"price": 0.0, "mass_g": 0.0, "lead_days": 0}, []),
    ):
        of = costing(base, bench, drawer(cogs=[{"teeth": 18, **facts}]))
        told = [unknown.fact for unknown in unknowns(of) if unknown.item.what == "cog 18"]
        assert told == lacking
        assert len(from_stock(of)) == ("count" in facts)
        [on] = [item for change in of.changes for item in change.on if item.what == "cog 18"]
        assert on.source is (Source.STOCK if "count" in facts else Source.BUY)
