"""Checks of the room round the rear derailleur: estimates from what was measured, and they say so."""

from collections.abc import Iterable
from typing import Final

from cogwright.core.chain.derailleur_room import b_gap, extended_limit, ground_mm, most_take_up
from cogwright.core.chain.length import ALLOWANCE
from cogwright.core.common.words import count, listed
from cogwright.core.figures import Figures
from cogwright.core.fit.check import COMMON, Check, Status, needs

#: Least gap between the tips of pulley and cog, and under the cage, mm (common practice, no source).
B_GAP_MM: Final = 5.0
CLEARANCE_MM: Final = 40.0
#: From this share of all that a cage can take up its limits are near (common practice, no source).
_NEAR: Final = 0.85
_ESTIMATE: Final = "an estimate"


def on_extension(figures: Figures) -> Check | None:
    """The largest cog with a hanger extension on; None without one, or where the maker's limit is unknown."""
    setup = figures.bench
    extension, limit = setup.frame.hanger_extension_mm, setup.rear_derailleur.largest_cog
    if extension is None or limit is None:
        return None
    own = setup.frame.hanger_extension_cog
    cog, reach = setup.rear.cogs[-1], extended_limit(limit, extension) if own is None else own
    bar, default = (float(cog), float(reach)), own is None
    with_it = f"{extension:g} mm lower about {reach}, {_ESTIMATE}"
    with_it = with_it if own is None else f"with the extension {own}, as its maker states"
    if cog > reach:
        say = f"the maker says {limit}; {with_it}: fit a smaller cog or another derailleur"
        return Check("largest cog", Status.PROBLEM, cog, reach, "teeth", say, bar, default=default)
    if cog > limit:
        say = f"over the maker's {limit}; {with_it}: set the B screw and try it by hand first"
        return Check("largest cog", Status.CAUTION, cog, reach, "teeth", say, bar, default=default)
    say = f"no extension is called for up to {limit}: the small cogs shift worse with it"
    return Check("largest cog", Status.CAUTION, cog, limit, "teeth", say, (float(cog), float(limit)))


def lowered_mm(figures: Figures) -> float:
    """How much lower the derailleur hangs than on the baseline; 0 without one."""
    if figures.baseline is None:
        return 0.0
    now, before = (of.frame.hanger_extension_mm or 0.0 for of in (figures.bench, figures.baseline))
    return now - before


def pulley_gap(figures: Figures) -> Check | None:
    """The gap between upper pulley and largest cog, from the gap that was measured on some cog."""
    derailleur = figures.bench.rear_derailleur
    measured, on, least = derailleur.b_gap_mm, derailleur.b_gap_cog, derailleur.least_b_gap_mm
    if not figures.chain.tensioned or (measured is None and on is None):
        return None
    if measured is None or on is None:
        lacks = "rear_derailleur.b_gap_mm" if measured is None else "rear_derailleur.b_gap_cog"
        return needs("B-gap", "mm", None, lacks)
    cog, limit = figures.bench.rear.cogs[-1], B_GAP_MM if least is None else least
    figure = b_gap(measured, on, cog, lowered_mm(figures))
    basis = f"{COMMON}; the maker's figure wins" if least is None else "as its maker states"
    found = f"about {figure:.1f} mm on cog {cog} before the B screw is touched ({_ESTIMATE}; {basis})"
    if figure >= limit - 1e-9:
        return Check("B-gap", Status.OK, figure, limit, "mm", found, least=True, default=True)
    if figure >= 0.0:
        say = f"{found}: turn the B screw in by {limit - figure:.1f} mm"
        return Check("B-gap", Status.CAUTION, figure, limit, "mm", say, least=True, default=True)
    say = f"{found}: the pulley would run into the cog unless the B screw has {limit - figure:.1f} mm left"
    return Check("B-gap", Status.PROBLEM, figure, limit, "mm", say, least=True, default=True)


def cage_clearance(figures: Figures) -> Check | None:
    """The cage's lowest point over the ground: what small wheels have little of."""
    drop, own = figures.bench.rear_derailleur.cage_drop_mm, figures.bench.limits.cage_clearance_mm
    if not figures.chain.tensioned or drop is None:
        return None
    limit = CLEARANCE_MM if own is None else own
    figure = ground_mm(figures.wheel.m, drop, lowered_mm(figures))
    say = f"{figure:.0f} mm from the ground to the cage at its lowest, {_ESTIMATE}"
    if figure >= limit:
        return Check("cage clearance", Status.OK, figure, limit, "mm", say, least=True, default=own is None)
    status = Status.PROBLEM if figure <= 0.0 else Status.CAUTION
    say = f"{say}: kerbs and stones reach it; fit a shorter cage"
    return Check("cage clearance", status, figure, limit, "mm", say, least=True, default=own is None)


def cage_wrap(figures: Figures) -> Check | None:
    """Chain to be taken up between the longest and the shortest way round, against the length of the cage.

    Only where nobody says what its maker states: the capacity is the better figure.
    """
    derailleur, ways = figures.bench.rear_derailleur, figures.chain.per_gear
    cage = derailleur.cage_mm
    if not figures.chain.tensioned or cage is None or derailleur.capacity is not None:
        return None
    if not ways:
        return needs("cage wrap", "links", None, "frame.chainstay_mm")
    figure = max(way.pitches for way in ways) - min(way.pitches for way in ways) + ALLOWANCE
    limit = most_take_up(cage)
    bar = (figure, limit)
    say = f"a cage of {cage:g} mm takes up {limit:.0f} links at the very most, {_ESTIMATE}"
    if figure > limit:
        say = f"{say}: the chain cannot be right in every gear; fit a longer cage"
        return Check("cage wrap", Status.PROBLEM, figure, limit, "links", say, bar, default=True)
    if figure > _NEAR * limit:
        say = f"{say}: little is left; the maker's capacity wins"
        return Check("cage wrap", Status.CAUTION, figure, limit, "links", say, bar, default=True)
    return Check("cage wrap", Status.OK, figure, limit, "links", say, bar, default=True)


def retention(figures: Figures) -> Check | None:
    """What holds the chain on a single ring, where the setup says anything of it or the bike had several."""
    setup = figures.bench
    if len(setup.crank.rings) > 1 or not figures.chain.tensioned:
        return None
    facts = {
        "tall teeth": setup.crank.retaining_teeth,
        "a clutch in the derailleur": setup.rear_derailleur.clutch,
        "a chain guide": setup.frame.chain_guide,
    }
    converted = figures.baseline is not None and len(figures.baseline.crank.rings) > 1
    if all(fact is None for fact in facts.values()) and not converted:
        return None
    own = setup.limits.retainers
    limit, there = 1 if own is None else own, [name for name, fact in facts.items() if fact]
    held = f"held by {listed(there)}" if there else _loose(facts.values())
    default = own is None
    if len(there) >= limit:
        return Check(
            "chain retention", Status.OK, len(there), limit, "retainers", held, least=True, default=default
        )
    lacks = listed([name for name in facts if name not in there], "or")
    say = f"{held}: on rough ground the chain can drop; add {lacks} ({count(limit, 'retainer')} wanted)"
    return Check(
        "chain retention", Status.CAUTION, len(there), limit, "retainers", say, least=True, default=default
    )


def _loose(facts: Iterable[bool | None]) -> str:
    return "nothing is known to hold it" if None in facts else "nothing holds it"
