"""A proposal of whatever search costs what the order of that change costs, part by part."""

import pytest

from bikes import DEMO, DRAWERS
from cogwright.core.proposing.bin_choices import cassettes_for, pool_for, rings_for
from cogwright.core.proposing.even import even_out
from cogwright.core.proposing.proposal import Proposal
from cogwright.core.proposing.single import single_ring
from cogwright.core.setup.model import Setup
from cogwright.core.study import study
from cogwright.core.worksheet.build import order_sheet
from cogwright.store.bins import read_bin
from cogwright.store.documents import read_setup

STOCK = read_bin(DRAWERS).value
BASE = read_setup(DEMO / "yard-1-two-rings.toml").value


def proposals(bench: Setup) -> tuple[Proposal, ...]:
    whole = cassettes_for(bench, STOCK)[1:]
    even = even_out(bench, BASE, pool_for(bench, STOCK), cassettes=whole, stock=STOCK)
    return (*even, *single_ring(bench, BASE, whole, rings_for(bench, STOCK), stock=STOCK))


@pytest.mark.long(cases=1)
@pytest.mark.parametrize("name", ["yard-1-two-rings", "yard-1-first-trial", "yard-7-pass"])
def test_more_even_steps_and_single_rings_cost_what_their_orders_cost(name: str) -> None:
    bench = read_setup(DEMO / f"{name}.toml").value
    found = proposals(bench)
    assert found
    for one in found:
        sheet = order_sheet(study(one.setup, BASE), STOCK)
        assert sheet is not None
        assert (one.parts, one.cost) == (sheet.on, sheet.price), one.title
        prices = [item.price for item in one.parts]
        whole = None if None in prices else pytest.approx(sum(price for price in prices if price is not None))
        assert one.cost == whole, one.title
