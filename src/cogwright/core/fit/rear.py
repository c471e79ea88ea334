"""Checks of the cassette as a whole: clicks, spacing families, riveted carriers."""

from typing import Final

from cogwright.core.common.words import count, listed
from cogwright.core.figures import Figures
from cogwright.core.fit.check import Check, Status, needs
from cogwright.core.indexing.clicks import Clicks
from cogwright.core.indexing.indexing import rear_indexing
from cogwright.core.setup.model import Setup

Riveted = tuple[int, ...]
#: The unit of riveted carriers of which only some cogs are there.
SPLIT: Final = "split"
_PARTS: Final = {
    "rear.family": "cogs",
    "rear_derailleur.family": "derailleur",
    "shifters.family": "shifter",
}


def clicks(figures: Figures) -> Check | None:
    """The number of cogs against the positions that the shifter indexes."""
    figure, limit = len(figures.bench.rear.cogs), figures.bench.rear.clicks
    if figure == 1:
        return None
    if limit is None:
        return needs("clicks", "cogs", figure, "rear.clicks")
    bar = (float(figure), float(limit))
    if figure > limit:
        say = f"{count(figure, 'cog')} but {count(limit, 'click')}: {figure - limit} cannot be reached"
        return Check("clicks", Status.PROBLEM, figure, limit, "cogs", say, bar)
    if figure < limit:
        return _spare_clicks(figures.bench, figure, limit, bar)
    return Check("clicks", Status.OK, figure, limit, "cogs", "one click a cog", bar)


def _spare_clicks(setup: Setup, figure: int, limit: int, bar: tuple[float, float]) -> Check:
    """More clicks than cogs: only cogs spaced for that very shifter are reached by them.

    Where pull, ratio and pitch are known these decide, and "indexing" says how well.
    """
    cogs, shifter = setup.rear.family, setup.shifters.family
    by_figures = rear_indexing(setup).clicks
    if by_figures is not None and not by_figures.hopeless:
        spare = count(limit - figure, "click")
        say = f"{spare} too many, by the figures they land all the same: set the stops with care"
        return Check("clicks", Status.CAUTION, figure, limit, "cogs", say, bar)
    if cogs is not None and cogs == shifter:
        spare = count(limit - figure, "click")
        say = f"{spare} of {cogs} too many: set the stops with care"
        return Check("clicks", Status.CAUTION, figure, limit, "cogs", say, bar)
    say = f"a shifter of {count(limit, 'click')} is spaced for {limit} cogs, not {figure}"
    mend = "match them, or name rear.family and shifters.family if the spacing is one"
    return Check("clicks", Status.PROBLEM, figure, limit, "cogs", f"{say}: {mend}", bar)


def spacing_family(figures: Figures) -> Check | None:
    """Cogs, derailleur and shifter must be indexed alike."""
    setup = figures.bench
    if len(setup.rear.cogs) == 1:
        return None
    families = {
        "rear.family": setup.rear.family,
        "rear_derailleur.family": setup.rear_derailleur.family,
        "shifters.family": setup.shifters.family,
    }
    known = {key: name for key, name in families.items() if name is not None}
    different = sorted(set(known.values()))
    if (len(different) > 1 or len(known) < len(families)) and (clicks := rear_indexing(setup).clicks):
        return _by_figures(clicks, different)
    if len(different) > 1:
        mixed = listed(f"{_PARTS[key]} {name}" for key, name in known.items())
        say = f"spacing families are mixed ({mixed}): it will not index; match them"
        return Check("spacing family", Status.PROBLEM, len(different), 1, "families", say)
    if len(known) < len(families):
        missing = [key for key, name in families.items() if name is None]
        return needs("spacing family", "families", None, *missing)
    return Check("spacing family", Status.OK, 1, 1, "families", f"all of one family, {different[0]}")


def _by_figures(clicks: Clicks, different: list[str]) -> Check:
    """Families that differ or are not all known, where pull, ratio and pitch are: those decide."""
    if len(different) < 2:
        say = "not all known, and not asked for: the figures decide, see indexing"
        return Check("spacing family", Status.OK, None, None, "families", say)
    named, many = f"mixed ({listed(different)})", len(different)
    if clicks.hopeless:
        say = f"{named}, and by the figures it will not index: see indexing"
        return Check("spacing family", Status.PROBLEM, many, 1, "families", say)
    if clicks.well:
        return Check("spacing family", Status.OK, many, None, "families", f"{named}, ok by the figures")
    say = f"{named}, doubtful by the figures: see indexing"
    return Check("spacing family", Status.CAUTION, many, None, "families", say)


def broken_carriers(carriers: tuple[Riveted, ...], cogs: Riveted) -> dict[Riveted, tuple[int, ...]]:
    """Carriers that stay in part, with those of their cogs that are still among `cogs`.

    >>> broken_carriers(((23, 25, 28), (31, 34)), (21, 23, 28, 31, 34))
    {(23, 25, 28): (23, 28)}
    """
    kept = {carrier: tuple(n for n in carrier if n in cogs) for carrier in carriers}
    return {carrier: left for carrier, left in kept.items() if 0 < len(left) < len(carrier)}


def wedged(carriers: tuple[Riveted, ...], cogs: Riveted) -> dict[Riveted, tuple[int, ...]]:
    """Carriers that are whole, with the loose cogs that would have to stand between their riveted ones.

    >>> wedged(((23, 25, 28),), (21, 23, 24, 25, 28))
    {(23, 25, 28): (24,)}
    """
    between = {c: tuple(n for n in cogs if c[0] < n < c[-1] and n not in c) for c in carriers if c[0] in cogs}
    return {carrier: loose for carrier, loose in between.items() if loose}


def carriers(figures: Figures) -> Check | None:
    """Cogs riveted together leave and arrive together, on the bench and from the baseline."""
    rear = figures.bench.rear
    broken = broken_carriers(rear.carriers, rear.cogs)
    squeezed = wedged(rear.carriers, rear.cogs)
    from_base = lost_from_baseline(figures)
    if broken:
        return _problem(len(broken), listed(map(_torn, broken, broken.values()), "and"))
    if squeezed:
        return _problem(len(squeezed), listed(map(_squeezed, squeezed, squeezed.values())))
    if from_base:
        says = listed(map(_borrowed, from_base, from_base.values()))
        return Check("riveted carriers", Status.CAUTION, len(from_base), 0, SPLIT, says)
    if not rear.carriers:
        return None
    say = f"{count(len(rear.carriers), 'carrier')}, whole or gone whole"
    return Check("riveted carriers", Status.OK, 0, 0, SPLIT, say)


def lost_from_baseline(figures: Figures) -> dict[Riveted, tuple[int, ...]]:
    """The baseline's carriers of which the bench keeps some cogs only, and not on a carrier of its own."""
    if figures.baseline is None:
        return {}
    own = {cog for carrier in figures.bench.rear.carriers for cog in carrier}
    broken = broken_carriers(figures.baseline.rear.carriers, figures.bench.rear.cogs)
    return {carrier: left for carrier, left in broken.items() if not own.intersection(left)}


def _problem(figure: int, say: str) -> Check:
    return Check("riveted carriers", Status.PROBLEM, figure, 0, SPLIT, say)


def _torn(carrier: Riveted, left: tuple[int, ...]) -> str:
    gone = [n for n in carrier if n not in left]
    verb = "is" if len(gone) == 1 else "are"
    return f"{listed(gone)} {verb} riveted to {listed(left)}: the whole carrier must be changed"


def _squeezed(carrier: Riveted, loose: tuple[int, ...]) -> str:
    return f"{listed(loose)} cannot stand between {carrier[0]} and {carrier[-1]}, which are riveted together"


def _borrowed(carrier: Riveted, left: tuple[int, ...]) -> str:
    riveted = "-".join(map(str, carrier))
    return f"{listed(left)} come off the baseline's riveted {riveted}: buy them loose, or change it whole"
