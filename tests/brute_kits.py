"""Whole kits one by one: every choice of parts put on a bike, priced by its order sheet, studied as a whole.

Nothing here is the search's own but the order sheet and the study: which kits there are is written out anew.
"""

import math
from collections.abc import Iterator
from itertools import combinations, product
from typing import Any, NamedTuple

from cogwright.core.parts.bin import Bin
from cogwright.core.setup.model import FrontDerailleur, RearDerailleur, Setup, Wear
from cogwright.core.setup.renewed import with_new_cassette, with_new_chain
from cogwright.core.study import study
from cogwright.core.worksheet.build import order_sheet
from cogwright.core.worksheet.sheet import OrderSheet


class Tried(NamedTuple):
    """One kit on the bike: what it loses (log), its largest step (log), price, doubts; and the bike."""

    lost: float
    step: float
    cost: float
    doubts: int
    setup: Setup
    sheet: OrderSheet

    @property
    def aims(self) -> tuple[float, float, float, int]:
        return round(self.lost, 7), round(self.step, 7), round(self.cost, 5), self.doubts


def every_kit(base: Setup, stock: Bin) -> list[Tried]:
    """Every kit that goes together on a bike, from the bike as it is."""
    found = []
    for rings, rear, derailleur, shifter, driver, new_chain in product(
        ring_sets(base, stock),
        cassettes(base, stock),
        derailleurs(base, stock),
        shifters(base, stock),
        drivers(base, stock),
        (False, True) if base.wear != Wear() else (False,),
    ):
        facts = rear | driver | {"clicks": shifter[0]}
        bench = with_all(base, rings, facts, derailleur, shifter[1:])
        found += tried(base, stock, with_new_chain(bench, bench.chain) if new_chain else bench)
    return found


def tried(base: Setup, stock: Bin, bench: Setup) -> list[Tried]:
    """The kit, if nothing is wrong with it."""
    sheet = order_sheet(study(bench, base), stock)
    assert sheet is not None
    if sheet.problems:
        return []
    of, before = study(sheet.after, base), study(base).summary
    lost = max(math.log(of.summary.lowest_m / before.lowest_m), 0.0)
    lost += max(math.log(before.highest_m / of.summary.highest_m), 0.0)
    loose = any(c.check == "chain retention" and c.status == "caution" for c in of.fit)
    step = math.log1p(of.summary.worst_rear_step_pct / 100.0)
    return [Tried(lost, step, sheet.parts_cost, len(sheet.unpriced) + loose, sheet.after, sheet)]


def with_all(
    base: Setup,
    rings: tuple[tuple[int, bool | None], ...],
    rear: dict[str, Any],
    derailleur: RearDerailleur,
    cable: tuple[str | None, Any],
) -> Setup:
    data = base.model_dump()
    alone = rings[0][1] if len(rings) == 1 and tuple(n for n, _ in rings) != base.crank.rings else None
    data["crank"] |= {"rings": tuple(n for n, _ in rings), "retaining_teeth": alone}
    same_number = len(rear["cogs"]) == len(base.rear.cogs)
    kept = base.rear.cog_pitch_mm if same_number else None
    new, pitch = rear["new"], rear["pitch"]
    rear = {key: value for key, value in rear.items() if key not in {"new", "pitch"}}
    data["rear"] |= {**rear, "cog_pitch_mm": kept if pitch is None else pitch}
    data["rear_derailleur"] = derailleur.model_dump()
    data["shifters"] |= {"family": cable[0], "pull_mm": cable[1]}
    if len(rings) == 1:
        data["front_derailleur"] = FrontDerailleur().model_dump()
    bench = Setup.model_validate(data)
    return with_new_cassette(bench) if new else bench


def ring_sets(base: Setup, stock: Bin) -> Iterator[tuple[tuple[int, bool | None], ...]]:
    own = {(n, None) for n in base.crank.rings}
    offered = {(ring.teeth, ring.retaining_teeth) for ring in stock.rings if ring.price is not None}
    for many in range(1, len(base.crank.rings) + 1):
        for rings in combinations(sorted(own | offered, key=str), many):
            teeth = {n for n, _ in rings}
            if len(teeth) == many and (many == 1 or not any(retains for _, retains in rings)):
                yield tuple(sorted(rings))


def cassettes(base: Setup, stock: Bin) -> Iterator[dict[str, Any]]:
    """Every cassette with up to two loose cogs swapped, as facts of `rear`."""
    rear = base.rear
    whole = [(rear.cogs, rear.carriers, rear.family, rear.cassette_driver, rear.cog_pitch_mm)]
    whole += [
        (c.cogs, c.carriers, c.family, c.driver, c.cog_pitch_mm)
        for c in stock.cassettes
        if c.price is not None
    ]
    for at, (cogs, carriers, family, driver, pitch) in enumerate(whole):
        riveted = {n for carrier in carriers for n in carrier}
        loose = [n for n in cogs if n not in riveted]
        offered = {
            c.teeth
            for c in stock.cogs
            if c.price is not None and (c.family is None or family is None or c.family == family)
        }
        for many in (0, 1, 2):
            for out, into in product(combinations(loose, many), combinations(sorted(offered), many)):
                teeth = tuple(sorted({*cogs} - {*out} | {*into}))
                squeezed = any(c[0] < n < c[-1] for n in into for c in carriers)
                if len(teeth) == len(cogs) and not squeezed and not set(into) & set(cogs):
                    facts = {"cogs": teeth, "carriers": carriers, "family": family}
                    yield facts | {"cassette_driver": driver, "pitch": pitch, "new": at > 0}


def derailleurs(base: Setup, stock: Bin) -> list[RearDerailleur]:
    return [base.rear_derailleur, *(part.limits for part in stock.rear_derailleurs if part.price is not None)]


def shifters(base: Setup, stock: Bin) -> list[tuple[int | None, str | None, Any]]:
    offered = [p for p in stock.small_parts if p.kind == "rear shifter" and p.price is not None]
    own = (base.rear.clicks, base.shifters.family, base.shifters.pull_mm)
    return [own, *((p.clicks, p.family, p.pull_mm) for p in offered)]


def drivers(base: Setup, stock: Bin) -> list[dict[str, Any]]:
    offered = [p for p in stock.small_parts if p.kind in {"freehub driver", "wheel"} and p.price is not None]
    own = {"driver": base.rear.driver, "smallest_cog": base.rear.smallest_cog}
    return [own, *({"driver": p.driver, "smallest_cog": p.smallest_cog} for p in offered)]


def front_of(kits: list[Tried]) -> set[tuple[float, float, float, int]]:
    """What no other kit beats in every aim at once."""
    aims = {kit.aims for kit in kits}

    def beaten(one: tuple[float, ...]) -> bool:
        return any(
            other != one and all(a <= b + 1e-9 for a, b in zip(other, one, strict=True)) for other in aims
        )

    return {one for one in aims if not beaten(one)}
