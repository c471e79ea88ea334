"""What differs between a baseline and a bench, as parts that come off and parts that go on.

A fact that only one of the two gives is no difference: it is known now and was not before. A part that one
job takes out of the bin is not there any more for the next.
"""

from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import Final

from cogwright.core.chain.bolt_circle import circle_of
from cogwright.core.chain.slack import chain_of
from cogwright.core.common.words import listed
from cogwright.core.figures import Figures
from cogwright.core.parts import search
from cogwright.core.parts.bin import Bin, Part
from cogwright.core.setup.differences import known_to_differ as differ
from cogwright.core.setup.model import Crank, Setup
from cogwright.core.setup.renewed import cassette_renewed, rings_renewed
from cogwright.core.setup.sizes import parse_size
from cogwright.core.worksheet.cassettes import cassette_change, cassette_name
from cogwright.core.worksheet.chain_changes import chain_change
from cogwright.core.worksheet.sheet import Change, Item, Job, off_bike, onto_bike

#: Makes an item of a name and the part of the bin that it is or is like.
Make = Callable[[str, Part | None], Item]
#: What tells one rear derailleur from another.
DERAILLEUR_FACTS: Final = ("largest_cog", "smallest_cog", "capacity", "family", "shift_ratio", "cage_mm")


def changes_of(figures: Figures, baseline: Setup, stock: Bin) -> tuple[Change, ...]:
    """Every job that makes the bench of the baseline; the chain comes last, when all else is known."""
    found: list[Change] = []
    for part in _PARTS:
        for change in part(baseline, figures.bench, stock):
            found.append(change)
            stock = taken(stock, change)
    return (*found, *chain_change(figures, baseline, stock))


def taken(stock: Bin, change: Change) -> Bin:
    """What is left of a bin when a job has taken its parts."""
    for item in change.on:
        if item.part is not None:
            stock = search.without(stock, item.part)
    return stock


def wheel_changes(base: Setup, bench: Setup, stock: Bin) -> Iterator[Change]:
    if base.rear.hub_ratios != bench.rear.hub_ratios:
        off, on = _hub(base, stock, off_bike), _hub(bench, stock, onto_bike)
        with_it = ", its shifter and its cable, set as the hub's maker says" if len(on) > 1 else ""
        yield Change(Job.HUB, off, on, f"{on[0].what}{with_it}")
    elif _wants_freehub(base, bench):
        freehub = "wheel with a freehub"
        on = (onto_bike(freehub, search.wheel(stock, bench), "unless the hub takes a cassette"),)
        yield Change(Job.WHEEL, (off_bike("wheel"),), on, freehub)
    elif differ(base.wheel, bench.wheel, "size"):
        old, new = (parse_size(s.wheel.size or "") for s in (base, bench))
        tyre = old is not None and new is not None and old[1] == new[1]
        kind = "tyre" if tyre else "wheel"
        was, now = (f"{kind} {setup.wheel.size}" for setup in (base, bench))
        part = search.small(stock, "tyre", size=bench.wheel.size) if tyre else search.wheel(stock, bench)
        yield Change(Job.TYRE if tyre else Job.WHEEL, (off_bike(was),), (onto_bike(now, part),), now)


def _wants_freehub(base: Setup, bench: Setup) -> bool:
    """Whether a bike of one cog gets a cassette, and nothing says that its hub has a driver for one."""
    freehub = base.rear.driver is not None or base.rear.smallest_cog is not None
    return len(base.rear.cogs) == 1 < len(bench.rear.cogs) and not chain_of(base).tensioned and not freehub


def _hub(setup: Setup, stock: Bin, make: Make) -> tuple[Item, ...]:
    """The wheel, and what shifts the gear inside its hub where there is one."""
    hub = search.hub(stock, setup.rear.hub_ratios)
    wheel = make(f"wheel with {_speeds(setup)}", hub or search.wheel(stock, setup))
    if hub is not None and wheel.part is hub:
        wheel = replace(wheel, note=hub.said)
    if len(setup.rear.hub_ratios) == 1:
        return (wheel,)
    shifter = make("hub shifter", search.small(stock, "hub shifter"))
    return (wheel, shifter, make("hub gear cable", search.small(stock, "gear cable")))


def _speeds(setup: Setup) -> str:
    count = len(setup.rear.hub_ratios)
    return f"a hub gear of {count} speeds" if count > 1 else "a hub without gears"


def driver_changes(base: Setup, bench: Setup, stock: Bin) -> Iterator[Change]:
    """Another freehub driver, or the wheel with it, whichever the bin has sooner."""
    if not differ(base.rear, bench.rear, "smallest_cog", "driver") or _wants_freehub(base, bench):
        return
    was, now = (_driver_name(setup) for setup in (base, bench))
    facts = {"driver": bench.rear.driver, "smallest_cog": bench.rear.smallest_cog}
    body, wheel = search.small(stock, "freehub driver", **facts), search.wheel(stock, bench)
    if body is None and wheel is not None:
        whole = f"wheel with {now.removeprefix('freehub ')}"
        yield Change(Job.WHEEL, (off_bike("wheel"),), (onto_bike(whole, wheel),), whole)
    else:
        yield Change(Job.DRIVER, (off_bike(was),), (onto_bike(now, body, "see that the hub takes it"),), now)


def _driver_name(setup: Setup) -> str:
    rear = setup.rear
    standard = f" {rear.driver}" if rear.driver else ""
    return f"freehub driver{standard}" + (f" for cogs from {rear.smallest_cog}" if rear.smallest_cog else "")


def cogs_changes(base: Setup, bench: Setup, stock: Bin) -> Iterator[Change]:
    if base.belted or bench.belted:
        yield from _rear_pulley(base, bench, stock)
        return
    change = cassette_change(base.rear, bench.rear, stock, cassette_renewed(base, bench))
    if change is not None:
        yield change


def _rear_pulley(base: Setup, bench: Setup, stock: Bin) -> Iterator[Change]:
    """A belt's pulley behind, which no chain's cog can stand in for."""
    if (base.belted, base.rear.cogs) == (bench.belted, bench.rear.cogs):
        return
    was, now = (_behind(setup) for setup in (base, bench))
    part = None if bench.belted else search.cog(stock, bench.rear.cogs[0], bench.rear.family)
    yield Change(Job.COGS, (off_bike(was),), (onto_bike(now, part),), now)


def _behind(setup: Setup) -> str:
    return f"rear belt pulley {setup.rear.cogs[0]}" if setup.belted else cassette_name(setup.rear)


def front_changes(base: Setup, bench: Setup, stock: Bin) -> Iterator[Change]:
    had, has = len(base.crank.rings) > 1, len(bench.crank.rings) > 1
    if had and not has:
        yield Change(Job.FRONT_OFF, off=_front_parts(base, stock, off=True))
    elif has and not had:
        yield Change(Job.FRONT_ON, on=_front_parts(bench, stock, off=False))
    elif has and differ(base.front_derailleur, bench.front_derailleur, "largest_ring", "difference"):
        before = off_bike("front derailleur", search.front_derailleur(stock, base.front_derailleur))
        after = onto_bike("front derailleur", search.front_derailleur(stock, bench.front_derailleur))
        yield Change(Job.FRONT_SWAP, (before,), (after,))


def _front_parts(setup: Setup, stock: Bin, off: bool) -> tuple[Item, ...]:
    """The front derailleur and its own: they come with the first extra ring and go with the last."""
    make: Make = off_bike if off else onto_bike
    return (
        make("front derailleur", search.front_derailleur(stock, setup.front_derailleur)),
        make("front shifter", search.small(stock, "front shifter")),
        make("front gear cable", search.small(stock, "gear cable")),
    )


def crank_changes(base: Setup, bench: Setup, stock: Bin) -> Iterator[Change]:
    if new_crank(base.crank, bench.crank):
        was, now = crank_name(base.crank), crank_name(bench.crank)
        yield Change(Job.CRANK, (off_bike(was),), (onto_bike(now, search.small(stock, "crank")),), now)


def new_crank(base: Crank, bench: Crank) -> bool:
    """Whether another crank is called for: another length or bolt circle."""
    return differ(base, bench, "length_mm", "bolt_circle_mm", "inner_bolt_circle_mm") or (
        base.bolt_circle_mm is not None and bench.bolt_circle_mm is not None and base.bolts != bench.bolts
    )


def crank_name(crank: Crank) -> str:
    """What a crank is called."""
    length = f" {crank.length_mm:g} mm" if crank.length_mm else ""
    circle = f", bolt circle {crank.bolt_circle_mm:g} mm" if crank.bolt_circle_mm else ""
    return f"crank{length}{circle}"


def rings_changes(base: Setup, bench: Setup, stock: Bin) -> Iterator[Change]:
    refit = base.belted is not bench.belted
    refit = refit or differ(base.crank, bench.crank, "bolt_circle_mm", "inner_bolt_circle_mm")
    refit = refit or _retains_anew(base.crank, bench.crank) or rings_renewed(base, bench)
    kept = set() if refit else set(base.crank.rings) & set(bench.crank.rings)
    off = tuple(_ring(base, n, stock, on=False) for n in base.crank.rings if n not in kept)
    on = tuple(_ring(bench, n, stock, on=True) for n in bench.crank.rings if n not in kept)
    if off or on:
        said = listed(item.what for item in on or off)
        yield Change(Job.RINGS, off, (*on, *_bolts(base, bench, stock)), said)


def _retains_anew(base: Crank, bench: Crank) -> bool:
    """Whether the only ring is to keep the chain on by its teeth, which the one of so many teeth did not."""
    alone = len(bench.rings) == 1 and bench.retaining_teeth is True
    return alone and (len(base.rings) > 1 or base.retaining_teeth is False)


def _bolts(base: Setup, bench: Setup, stock: Bin) -> tuple[Item, ...]:
    """Ring bolts of another length, where a single ring takes the place of several or the reverse."""
    was, now = len(base.crank.rings), len(bench.crank.rings)
    if (was == 1) is (now == 1):
        return ()
    name = "ring bolts for one ring" if now == 1 else f"ring bolts for {now} rings"
    return (onto_bike(name, search.small(stock, "ring bolts", bolts=bench.crank.bolts)),)


def _ring(setup: Setup, teeth: int, stock: Bin, on: bool) -> Item:
    crank, circle = setup.crank, circle_of(setup.crank, teeth)
    if setup.belted:
        pulley = f"front belt pulley {teeth}"
        return onto_bike(pulley, None, "made for the crank and the belt") if on else off_bike(pulley)
    name = f"ring {teeth}" + (f", bolt circle {circle:g} mm ({crank.bolts} bolts)" if circle else "")
    part = search.ring(stock, teeth, crank, circle)
    unsure = circle is None and part is not None and part.bolt_circle_mm is not None
    note = f"see that the crank takes {part.bolt_circle_mm:g} mm" if unsure and part else ""
    return onto_bike(name, part, note) if on else off_bike(name, part)


def rear_derailleur_changes(base: Setup, bench: Setup, stock: Bin) -> Iterator[Change]:
    """Another derailleur, the first one, or none any more: then its shifter and cable go with it."""
    had, has = chain_of(base).tensioned, chain_of(bench).tensioned
    was, now = base.rear_derailleur, bench.rear_derailleur
    if had and not has:
        yield Change(Job.REAR_OFF, off=(_old_derailleur(base, stock), *_old_shifter(base, stock)))
    elif has and (not had or differ(was, now, *DERAILLEUR_FACTS)):
        limits = [f"largest cog {now.largest_cog}"] if now.largest_cog else []
        limits += [f"capacity {now.capacity}"] if now.capacity is not None else []
        name = ", ".join(["rear derailleur", *limits])
        off = (_old_derailleur(base, stock),) if had else ()
        yield Change(Job.REAR_DERAILLEUR, off, (onto_bike(name, search.rear_derailleur(stock, now)),), name)


def _old_derailleur(setup: Setup, stock: Bin) -> Item:
    return off_bike("rear derailleur", search.rear_derailleur(stock, setup.rear_derailleur))


def _shifts(setup: Setup) -> bool:
    """Whether a shifter moves the chain over the cogs."""
    return chain_of(setup).tensioned and len(setup.rear.cogs) > 1


def _old_shifter(setup: Setup, stock: Bin) -> tuple[Item, ...]:
    if not _shifts(setup):
        return ()
    facts = {"family": setup.shifters.family, "pull_mm": setup.shifters.pull_mm}
    part = search.small(stock, "rear shifter", clicks=setup.rear.clicks, **facts)
    return (off_bike("rear shifter", part), off_bike("rear gear cable", search.small(stock, "gear cable")))


def shifter_changes(base: Setup, bench: Setup, stock: Bin) -> Iterator[Change]:
    other = differ(base.rear, bench.rear, "clicks") or differ(
        base.shifters, bench.shifters, "family", "pull_mm"
    )
    if not _shifts(bench) or (_shifts(base) and not other):
        return
    clicks, family, pull = bench.rear.clicks, bench.shifters.family, bench.shifters.pull_mm
    name = f"rear shifter, {clicks} clicks" if clicks else "rear shifter"
    on = (
        onto_bike(name, search.small(stock, "rear shifter", clicks=clicks, family=family, pull_mm=pull)),
        onto_bike("rear gear cable", search.small(stock, "gear cable")),
    )
    yield Change(Job.SHIFTER, _old_shifter(base, stock), on, name)


def timing_changes(base: Setup, bench: Setup, _: Bin) -> Iterator[Change]:
    """A tandem's timing chain: another length, other rings, or one that has stretched less."""
    was, now = base.timing_chain, bench.timing_chain
    known = was.stretch_pct is not None and now.stretch_pct is not None
    shrunk = known and (now.stretch_pct or 0.0) < (was.stretch_pct or 0.0)
    rings = differ(was, now, "rings")
    if not (rings or shrunk or differ(was, now, "links")):
        return
    old, new = (f"timing chain, {t.links} links" if t.links else "timing chain" for t in (was, now))
    pair = f"timing rings {' and '.join(map(str, now.rings or ()))}"
    on = (onto_bike(new, None), *((onto_bike(pair, None),) if rings else ()))
    off = (off_bike(old), *((off_bike("timing rings"),) if rings else ()))
    yield Change(Job.TIMING, off, on, listed(item.what for item in on))


_PARTS: Final[tuple[Callable[[Setup, Setup, Bin], Iterator[Change]], ...]] = (
    wheel_changes,
    driver_changes,
    cogs_changes,
    front_changes,
    crank_changes,
    rings_changes,
    rear_derailleur_changes,
    shifter_changes,
    timing_changes,
)
