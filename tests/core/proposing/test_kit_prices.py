"""Prices slot by slot against the order sheet of the whole kit, and the checks that a kit is judged by."""

import random
from collections import Counter
from typing import Any

import pytest
from test_plan import random_bike, random_bin

from bikes import bike, drawer
from cogwright.core.figures import Figures
from cogwright.core.fit.check import Status
from cogwright.core.fit.registry import CHECKS, fit_of
from cogwright.core.parts.bin import Bin
from cogwright.core.proposing import support
from cogwright.core.proposing.cassette_prices import CassettePrices
from cogwright.core.proposing.kit import Kit
from cogwright.core.proposing.kit_fit import LOOKS_AT, OF_ALL, OF_SPROCKETS, OF_SUPPORT, KitFacts, KitFit
from cogwright.core.proposing.kit_prices import KitPrice, KitPrices
from cogwright.core.proposing.options import PlanOptions, options_for
from cogwright.core.proposing.space import Ends, ring_sets, variants
from cogwright.core.setup.model import Rear, RearDerailleur, Setup
from cogwright.core.worksheet.cassettes import Worth, cassette_change, worth_of
from cogwright.core.worksheet.costing import costing
from support import long_run


def random_kits(base: Setup, options: PlanOptions, seed: int, many: int) -> list[Kit]:
    rng = random.Random(seed)
    rings = ring_sets(options.own, options.rings, 2)
    cogs = [variant for cassette in options.cassettes for variant in variants(cassette, options.cogs)]
    return [
        Kit(
            rng.choice(rings),
            rng.choice(cogs),
            rng.choice(options.derailleurs),
            rng.choice(options.shifters),
            rng.choice(options.drivers),
        )
        for _ in range(many)
    ]


def facts(base: Setup, options: PlanOptions, kit: Kit) -> KitFacts:
    ends = Ends(kit.variant.cassette, len(base.rear.cogs), base.rear.cog_pitch_mm).of(kit.variant.cogs)
    places = (
        options.derailleurs.index(kit.derailleur),
        options.shifters.index(kit.shifter),
        options.drivers.index(kit.driver),
    )
    tensioned = len(kit.rings.teeth) * ends.many > 1 or kit.derailleur != RearDerailleur()
    return KitFacts(kit.rings.place, kit.rings.teeth, ends, *places, tensioned)


@pytest.mark.long(cases=3)
@pytest.mark.parametrize("seed", range(long_run(60)))
def test_the_prices_of_the_slots_add_up_to_the_order_of_the_whole(seed: int) -> None:
    base, stock = random_bike(seed), random_bin(seed)
    options = options_for(base, base, stock)
    prices = KitPrices(base, base, stock)
    for kit in random_kits(base, options, seed, 25):
        place, on = facts(base, options, kit), kit.on(base)
        chain, complete = prices.chain(on)
        slots = (
            prices.cassette(kit.variant),
            prices.derailleur(place, lambda on=on: on),
            prices.shifter(place, lambda on=on: on),
            prices.driver(place, lambda on=on: on),
            chain,
        )
        whole = costing(base, on, stock)
        added = prices.rings(kit.rings).plus(*slots)
        assert added == KitPrice(pytest.approx(whole.parts_cost), len(whole.unpriced))
        assert complete == whole.after


@pytest.mark.long(cases=3)
@pytest.mark.parametrize("seed", range(long_run(60)))
def test_a_kit_has_the_problems_of_the_whole_bike(seed: int) -> None:
    base, stock = random_bike(seed), random_bin(seed)
    options = options_for(base, base, stock)
    fit, prices = KitFit(base), KitPrices(base, base, stock)
    for kit in random_kits(base, options, seed, 25):
        _, complete = prices.chain(kit.on(base))
        counted = fit.problems(facts(base, options, kit), CHECKS, lambda of=complete: of)
        found = fit_of(Figures(complete, base))
        assert counted == sum(check.status is Status.PROBLEM for check in found)


def test_every_check_is_judged_once() -> None:
    counted = Counter((*OF_ALL, *OF_SPROCKETS, *OF_SUPPORT))
    assert counted == Counter(CHECKS)
    assert set(LOOKS_AT) <= set(CHECKS)
    asked = {*support._OF_PAIR, *support._OF_DRIVER, *support._OF_CAGE}
    assert asked == set(OF_SUPPORT)


def rear(cogs: tuple[int, ...], **facts: Any) -> Rear:
    return Rear(cogs=cogs, **facts)


def random_cassettes(seed: int) -> tuple[Rear, list[Rear], Bin]:
    """A cassette on the bike, others that are like it in part, and a bin of cogs, carriers and cassettes."""
    rng = random.Random(seed)
    counts = range(11, 29)

    def cogs(many: int) -> tuple[int, ...]:
        return tuple(sorted(rng.sample(counts, many)))

    def riveted(of: tuple[int, ...]) -> tuple[tuple[int, ...], ...]:
        return rng.choice([(), (of[-2:],), (of[-3:],), (of[1:3], of[-2:])])

    def facts() -> dict[str, Any]:
        return {"family": rng.choice([None, "six", "six", "odd"]), "driver": rng.choice([None, None, "step"])}

    def part(**more: Any) -> dict[str, Any]:
        return {"price": rng.choice([None, float(rng.randint(1, 30))]), "count": rng.choice([0, 1]), **more}

    own = cogs(6)
    base = rear(own, carriers=riveted(own), family="six")
    wholes = []
    for _ in range(5):
        has = cogs(rng.choice([6, 6, 7]))
        wholes.append(part(cogs=has, carriers=riveted(has), **facts()))
    stock = drawer(
        cogs=[part(teeth=n, family=rng.choice([None, "six", "odd"])) for n in rng.sample(counts, 9)],
        carriers=[part(cogs=sorted(rng.sample(counts, 2)), family="six") for _ in range(6)],
        cassettes=wholes,
    )
    wanted = [base]
    for _ in range(60):
        source = rng.choice([own, *(tuple(whole["cogs"]) for whole in wholes)])
        swapped = set(source) - set(rng.sample(source, rng.choice([0, 1, 2, 3])))
        new = tuple(sorted(swapped | set(rng.sample(counts, len(source) - len(swapped)))))
        said = facts()
        wanted.append(
            rear(
                new,
                carriers=riveted(new) if len(new) > 4 else (),
                family=said["family"],
                cassette_driver=said["driver"],
            )
        )
    return base, [*wanted, rear((17,)), rear((18,), family="six")], stock


@pytest.mark.long(cases=6)
@pytest.mark.parametrize("seed", range(long_run(200)))
def test_cassettes_are_worth_what_the_order_sheet_takes(seed: int) -> None:
    base, wanted, stock = random_cassettes(seed)
    prices = CassettePrices(base, stock)
    for one in wanted:
        change = cassette_change(base, one, stock)
        worth = worth_of(change.on) if change else Worth(0, 0, 0.0, 0)
        assert prices.worth(one.cogs, one.carriers, one.family, one.cassette_driver) == worth


def test_a_bike_of_one_cog_is_priced_as_its_order_is() -> None:
    single = bike((42,), (17,), rear={"carriers": None, "clicks": None, "family": None})
    stock = drawer(cogs=[{"teeth": 18, "price": 5.0, "count": 1}, {"teeth": 16, "price": 4.0}])
    prices = CassettePrices(single.rear, stock)
    assert prices.worth((18,), (), None, None) == Worth(0, 0, 5.0, 1)
    assert prices.worth((16,), (), None, None) == Worth(1, 0, 4.0, 1)
    assert prices.worth((17,), (), None, None) == Worth(0, 0, 0.0, 0)
    assert prices.worth((15,), (), None, None) == Worth(2, 1, 0.0, 1)
