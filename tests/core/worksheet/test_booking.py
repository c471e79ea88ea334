"""After the work: the log has it, and what was measured of parts that went is forgotten."""

import datetime

import pytest

from bikes import COGS, bike, drawer
from cogwright.core.common.errors import EditRefused
from cogwright.core.parts.which_fit import SprocketPlace, try_parts
from cogwright.core.setup.model import Setup
from cogwright.core.setup.renewed import with_new_cassette, with_new_chain, with_new_rings
from cogwright.core.study import study
from cogwright.core.worksheet.booking import BookWork, as_fitted
from cogwright.core.worksheet.build import order_sheet
from cogwright.core.worksheet.costing import costing
from cogwright.core.worksheet.sheet import Job
from cogwright.present.lines import Look, plain
from cogwright.present.views.order import order_lines
from cogwright.store.documents import parse, to_toml

DAY = datetime.date(2026, 5, 2)
WEAR = {
    "chain_pct": 0.6,
    "chain_km": 3000.0,
    "changed_at_pct": 0.4,
    "cassette_km": 6000.0,
    "rings_state": "worn",
}


def test_a_new_chain_is_in_the_log_and_its_stretch_is_kept_for_the_cogs() -> None:
    base = bike(chain={"links": 108}, wear=WEAR)
    fitted = as_fitted(costing(base, base), DAY, 8200.0)
    (entry,) = fitted.log
    assert (entry.date, entry.km, entry.what) == (DAY, 8200.0, "new chain, 112 links")
    assert fitted.chain.links == 112
    assert (fitted.wear.chain_pct, fitted.wear.chain_km) == (None, 0.0)
    assert fitted.wear.changed_at_pct == 0.6, "it ran on these cogs"
    assert (fitted.wear.cassette_km, fitted.wear.rings_state) == (6000.0, "worn")
    assert parse(to_toml(fitted), Setup) == fitted


def test_of_a_new_cassette_nothing_is_known_and_of_new_rings_neither() -> None:
    base = bike(wear=WEAR)
    cogs = (*COGS[:5], 20, 22, 24, 27, 30, 36)
    fitted = as_fitted(costing(base, bike((36, 48), cogs, rear={"carriers": None}, wear=WEAR)), DAY)
    assert (fitted.wear.changed_at_pct, fitted.wear.cassette_km) == (None, None)
    assert (fitted.wear.cassette_state, fitted.wear.rings_state) == ("new", "new")
    assert fitted.log[0].what.startswith("cassette 11-36, 11 cogs; ring 36")
    one = as_fitted(costing(base, bike((34, 48), wear=WEAR)), DAY)
    assert one.wear.rings_state == "worn", "the 34 has stayed"


def test_the_same_parts_new_are_on_the_order() -> None:
    """A worn chain, cassette and rings, renewed with the same tooth counts and the same length."""
    base = bike(wear=WEAR)
    renewed = with_new_rings(with_new_cassette(with_new_chain(base, base.chain)))
    assert [change.job for change in costing(base, renewed).changes] == [
        Job.CASSETTE,
        Job.RINGS,
        Job.NEW_CHAIN,
    ]
    assert [change.job for change in costing(base, with_new_chain(base, base.chain)).changes] == [
        Job.NEW_CHAIN
    ]
    assert not costing(renewed, renewed).changes
    assert not costing(bike(), base).changes, "measured now, and not before"
    assert not costing(base, bike()).changes, "not said any more is not new"
    run_in = base.model_copy(update={"wear": base.wear.model_copy(update={"chain_pct": 0.1})})
    assert [change.job for change in costing(base, run_in).changes] == [Job.NEW_CHAIN], "none shrinks"


def test_booking_is_one_edit_and_not_made_twice() -> None:
    base, bench = bike(chain={"links": 108}, wear=WEAR), bike((36, 48), chain={"links": 108}, wear=WEAR)
    work = BookWork(costing(base, bench), DAY, 8200.0)
    booked = work.apply(bench)
    assert booked == as_fitted(costing(base, bench), DAY, 8200.0)
    assert booked.log[-1].what.startswith("ring 36")
    again = costing(base, booked)
    assert as_fitted(again, DAY) == booked, "booked out of stock afterwards it is not written down twice"
    with pytest.raises(EditRefused, match="in the log of today already"):
        BookWork(again, DAY).apply(booked)


def test_the_same_ring_or_cassette_out_of_the_bin_is_a_new_one() -> None:
    base = bike((42,), wear=WEAR, front_derailleur={"largest_ring": None, "difference": None})
    stock = drawer(
        rings=[{"teeth": 42, "bolt_circle_mm": 110.0, "count": 1}],
        cassettes=[{"cogs": list(COGS), "carriers": [[23, 25, 28], [31, 34]], "family": "wide", "count": 1}],
    )
    for place, job in ((SprocketPlace("ring", 42), Job.RINGS), (SprocketPlace("cog", 11), Job.CASSETTE)):
        (tried,) = try_parts(stock, study(base), place)
        (change,) = costing(base, tried.edit.apply(base), stock).changes
        assert (change.job, change.on[0].part) == (job, tried.part)
    nothing_known = bike((42,))
    (ring,) = try_parts(stock, study(nothing_known), SprocketPlace("ring", 42))
    assert ring.edit.apply(nothing_known) is nothing_known


def test_what_goes_is_no_danger_on_the_order_any_more() -> None:
    hooked = {"chain_pct": 1.2, "cassette_state": "hooked", "rings_state": "hooked"}
    cogs = (*COGS[:5], 20, 22, 24, 27, 30, 36)
    bench = bike((36, 48), cogs, rear={"carriers": None}, wear=hooked)
    sheet = order_sheet(study(with_new_chain(bench, bench.chain), bike(wear=hooked)))
    assert sheet is not None
    assert not [said for said in sheet.problems if said.startswith(("chain wear", "new on", "ring wear"))]
    kept = order_sheet(study(bike(wear=hooked), bike((34, 48), wear=hooked)))
    assert kept is not None
    said = [one.split(":")[0] for one in kept.problems]
    assert {"chain wear", "ring wear"} <= set(said)


def test_nothing_done_is_nothing_logged() -> None:
    base = bike(wear=WEAR)
    assert as_fitted(costing(base, base), DAY) is base


def test_a_joint_that_has_been_closed_often_enough_is_named_where_it_is_opened() -> None:
    joint = {"joint_uses": 1, "joint_most_uses": 1}
    base, bench = bike(chain=joint), bike((34, 48), chain=joint)

    def said(used: Setup) -> str:
        return " ".join(" ".join(map(plain, order_lines(order_sheet(study(bench, used)), Look(120)))).split())

    assert "the joint has been closed 1 time, 1 as its maker states: a new one" in said(base)
    assert "the joint has been closed" not in said(bike(chain={"joint_uses": 1, "joint_most_uses": 2}))
    assert "the joint has been closed" not in said(bike())


def test_the_sheet_says_where_to_set_the_cable() -> None:
    facts = {"rear": {"cog_pitch_mm": 3.8, "carriers": None}, "shifters": {"pull_mm": 2.7}}
    bench = bike(cogs=(*COGS[:-1], 36), rear_derailleur={"shift_ratio": 1.45}, **facts)
    sheet = order_sheet(study(bench, bike()))
    assert sheet is not None
    (step,) = [step for step in sheet.steps if "indexing" in step.do]
    # By hand: 2.7 x 1.45 = 3.915, 0.115 more than 3.8 a click; five clicks either side of the middle cog.
    assert step.cautions[-1] == "set the cable on cog 21; cog 11 is then off most, -0.58 mm"
