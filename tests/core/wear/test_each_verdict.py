"""What worn parts are judged to be, at each limit and by hand. Limits are common practice (P)."""

import math
from typing import Any

import pytest

from cogwright.core.setup.model import Setup
from cogwright.core.wear.costs import Prices, costs_of, own_prices
from cogwright.core.wear.staying import Fate, cassette_verdict, chain_verdict, rings_verdict, verdicts
from cogwright.core.wear.stretch import READING_PCT, change_at, reaches, slips_at
from support import make

TEN = (11, 12, 13, 14, 15, 17, 19, 21, 24, 28)


def worn(cogs: tuple[int, ...] = TEN, limits: dict[str, Any] | None = None, **wear: Any) -> Setup:
    return make((34, 50), cogs, wear=wear, limits=limits or {})


@pytest.mark.parametrize(("cogs", "change", "slips"), [(TEN, 0.5, 0.75), (TEN[1:], 0.75, 1.0)])
def test_ten_cogs_and_more_want_a_new_chain_sooner(
    cogs: tuple[int, ...], change: float, slips: float
) -> None:
    assert (change_at(worn(cogs)), slips_at(worn(cogs))) == (change, slips)
    own = worn(cogs, {"chain_wear_pct": 0.6, "slip_pct": 0.9})
    assert (change_at(own), slips_at(own)) == (0.6, 0.9)
    late = worn(cogs, {"chain_wear_pct": 1.5})
    assert slips_at(late) == 1.5, "no chain slips before it is changed"


def test_a_ruler_is_read_to_a_tenth_of_a_millimetre() -> None:
    """Half of that on 304.8 mm is 0.0164 %."""
    assert pytest.approx(0.01640, abs=1e-5) == READING_PCT
    assert reaches(0.5 - 0.0164, 0.5)
    assert not reaches(0.5 - 0.0165, 0.5)


@pytest.mark.parametrize(
    ("pct", "fate"), [(0.48, Fate.STAYS), (0.49, Fate.DUE), (0.73, Fate.DUE), (0.74, Fate.GOES)]
)
def test_a_chain_by_its_stretch(pct: float, fate: Fate) -> None:
    found = chain_verdict(worn(chain_pct=pct))
    assert found is not None
    assert (found.fate, found.figure, found.limit) == (fate, pct, 0.5)
    assert ("0.5 % with 10 cogs" in found.say) is True
    assert chain_verdict(worn()) is None


def test_how_far_the_chain_may_go_yet() -> None:
    """0.4 % in 2000 km: 0.5 % in 2500, so 500 km from now."""
    found = chain_verdict(worn(chain_pct=0.4, chain_km=2000.0))
    assert found is not None
    assert found.say.endswith("about 500 km from now at the rate so far")
    for facts in ({"chain_pct": 0.4}, {"chain_pct": 0.0, "chain_km": 2000.0}):
        unknown = chain_verdict(worn(**facts))
        assert unknown is not None
        assert "km from now" not in unknown.say


def test_a_worn_chain_on_a_new_cog_is_said() -> None:
    for pct, said in ((0.6, True), (0.9, True), (0.3, False)):
        found = chain_verdict(worn((*TEN[:-1], 30), chain_pct=pct), worn())
        assert found is not None
        assert ("on the new cog 30 it wears them fast" in found.say) is said
    two = chain_verdict(worn((*TEN[:-2], 25, 30), chain_pct=0.6), worn())
    assert two is not None
    assert "on the new cogs 25 and 30" in two.say


@pytest.mark.parametrize(
    ("wear", "fate"),
    [
        ({}, None),
        ({"cassette_km": 100.0}, Fate.UNKNOWN),
        ({"cassette_state": "new"}, Fate.STAYS),
        ({"cassette_state": "new", "chain_pct": 0.3}, Fate.STAYS),
        ({"cassette_state": "new", "chain_pct": 0.6}, Fate.DOUBTFUL),
        ({"cassette_state": "hooked"}, Fate.GOES),
        ({"cassette_state": "worn"}, Fate.DOUBTFUL),
        ({"cassette_state": "good"}, Fate.STAYS),
        ({"changed_at_pct": 0.3}, Fate.STAYS),
        ({"changed_at_pct": 0.48}, Fate.STAYS),
        ({"changed_at_pct": 0.49}, Fate.DOUBTFUL),
        ({"changed_at_pct": 0.73}, Fate.DOUBTFUL),
        ({"changed_at_pct": 0.74}, Fate.GOES),
        ({"changed_at_pct": 0.3, "cassette_state": "worn"}, Fate.DOUBTFUL),
        ({"changed_at_pct": 0.3, "cassette_state": "hooked"}, Fate.GOES),
    ],
)
def test_a_cassette_by_its_teeth_or_its_chains(wear: dict[str, Any], fate: Fate | None) -> None:
    found = cassette_verdict(worn(**wear))
    assert (found and found.fate) == fate
    assert found is None or found.limit == 0.75
    if found and "changed_at_pct" in wear:
        assert found.figure == wear["changed_at_pct"]


def test_all_cogs_new_are_a_new_cassette_only_where_wear_is_known() -> None:
    new = tuple(cog + 100 for cog in TEN)
    for wear, fate in (
        ({}, None),
        ({"cassette_km": 9.0}, Fate.STAYS),
        ({"changed_at_pct": 0.9}, Fate.STAYS),
        ({"cassette_state": "worn"}, Fate.STAYS),
    ):
        found = cassette_verdict(worn(new, **wear), worn())
        assert (found and found.fate) == fate
    some = cassette_verdict(worn((*TEN[:-1], 30), changed_at_pct=0.9), worn())
    assert some is not None
    assert some.fate is Fate.GOES
    assert "(cog 30 new)" in some.say


def test_rings_by_their_teeth_and_those_that_are_new() -> None:
    fates = {"hooked": Fate.GOES, "worn": Fate.DOUBTFUL, "good": Fate.STAYS, "new": Fate.STAYS}
    for state, fate in fates.items():
        found = rings_verdict(worn(rings_state=state, rings_km=7.0))
        assert found is not None
        assert (found.fate, found.figure, found.limit) == (fate, 7.0, None)
    assert rings_verdict(worn()) is None
    unknown = rings_verdict(worn(rings_km=7.0))
    assert unknown is not None
    assert unknown.fate is Fate.UNKNOWN
    other = make((36, 52), TEN)
    for wear in ({"rings_state": "hooked"}, {"rings_km": 7.0}):
        new = rings_verdict(worn(**wear), other)
        assert new is not None
        assert (new.fate, new.say) == (Fate.STAYS, "new")
    kept = rings_verdict(worn(rings_state="hooked"), make((34, 52), TEN))
    assert kept is not None
    assert kept.fate is Fate.GOES
    assert rings_verdict(worn(), other) is None


def test_every_part_of_which_something_is_known() -> None:
    assert [v.part for v in verdicts(worn(chain_pct=0.1, rings_state="good"))] == [
        "chain",
        "cassette",
        "rings",
    ]
    assert [v.part for v in verdicts(worn(rings_state="good"))] == ["rings"]
    assert verdicts(worn(cassette_state="good"))[0].part == "cassette"


def test_costs_of_a_thousand_kilometres_by_hand() -> None:
    """0.25 % in 1000 km and 0.5 % to go to: half a chain, a sixth of a cassette, a twelfth of the rings."""
    prices = Prices(20.0, 60.0, 120.0, "EUR")
    of = costs_of(worn(chain_pct=0.5, chain_km=2000.0), prices)
    assert of is not None
    assert of.rate_pct == pytest.approx(0.25)
    assert (of.early.chains, of.early.cassettes, of.early.rings) == pytest.approx((1 / 2, 1 / 6, 1 / 12))
    assert of.early.cost == pytest.approx(10 + 10 + 10)
    assert (of.run_out.chains, of.run_out.cassettes, of.run_out.rings) == pytest.approx((1 / 8,) * 3)
    assert of.run_out.cost == pytest.approx(200 / 8)
    assert sum("common practice" in said for said in of.assumptions) == 3
    own = costs_of(
        worn(chain_pct=0.5, chain_km=2000.0, chains_per_cassette=2, cassettes_per_rings=4, run_out_pct=1.0),
        Prices(20.0, None, 120.0),
    )
    assert own is not None
    assert (own.early.cassettes, own.early.rings, own.run_out.chains) == pytest.approx((1 / 4, 1 / 16, 1 / 4))
    assert own.early.cost is None
    assert not any("common practice" in said for said in own.assumptions)
    for lacking in ({"chain_pct": 0.5}, {"chain_km": 9.0}, {"chain_pct": 0.0, "chain_km": 9.0}):
        assert costs_of(worn(**lacking), prices) is None
    for prices in (Prices(None, 60.0, 120.0), Prices(20.0, 60.0, None)):
        priceless = costs_of(worn(chain_pct=0.5, chain_km=2000.0), prices)
        assert priceless is not None
        assert priceless.early.cost is None
    assert own_prices(worn(chain_price=5.0, rings_price=7.0)) == Prices(5.0, None, 7.0)
    assert math.isfinite(of.rate_pct)
