"""Checks of tooth counts against what makers and mountings allow."""

from typing import Final

from cogwright.core.chain.bolt_circle import SPECIAL_MARGIN_MM, smallest_ring
from cogwright.core.figures import Figures
from cogwright.core.fit.check import COMMON, Check, Limit, Status, needs
from cogwright.core.fit.derailleur import on_extension
from cogwright.core.setup.model import Rear

#: The common splined driver takes cogs from 11; drivers from 10 or 9 are stepped, another standard (common
#: practice, no source).
COMMON_FIRST_COG: Final = 11

_LARGEST_COG: Final = Limit(
    "largest cog",
    "rear_derailleur.largest_cog",
    "the rear derailleur takes up to {limit}",
    "{figure} teeth where the rear derailleur takes {limit}: fit one with a higher limit, or a smaller cog",
)
_SMALLEST_COG: Final = Limit(
    "smallest cog",
    "rear_derailleur.smallest_cog",
    "the rear derailleur goes down to {limit}",
    "{figure} teeth are under the rear derailleur's {limit}: expect poor shifts, or take {limit}",
    least=True,
    breach=Status.CAUTION,
)
_DRIVER: Final = Limit(
    "freehub driver",
    "rear.smallest_cog",
    "the driver takes cogs down to {limit}",
    "a cog of {figure} does not go on this driver: take {limit} or more, or another driver body",
    least=True,
)
_CAPACITY: Final = Limit(
    "capacity",
    "rear_derailleur.capacity",
    "the rear derailleur's cage takes up to {limit}",
    "{figure} teeth where the rear derailleur's cage takes {limit}:"
    " fit a longer cage, or the chain hangs slack in the small gears",
)
_DIFFERENCE: Final = Limit(
    "front difference",
    "front_derailleur.difference",
    "the front derailleur takes up to {limit}",
    "{figure} teeth where the front derailleur takes {limit}:"
    " bring the rings closer, or fit another front derailleur",
)
_LARGEST_RING: Final = Limit(
    "largest ring",
    "front_derailleur.largest_ring",
    "the front derailleur takes up to {limit}",
    "{figure} teeth where the front derailleur takes {limit}:"
    " take a smaller ring, or fit another front derailleur",
)
_CLEARANCE: Final = Limit(
    "frame clearance",
    "frame.largest_ring",
    "the frame takes up to {limit}",
    "{figure} teeth where the frame takes {limit}: it can touch the chainstay: take a smaller ring",
)


def largest_cog(figures: Figures) -> Check | None:
    """The largest cog against the rear derailleur's limit."""
    setup = figures.bench
    if not figures.chain.tensioned:
        return None
    if (extended := on_extension(figures)) is not None:
        return extended
    return _LARGEST_COG.judge(setup.rear.cogs[-1], setup.rear_derailleur.largest_cog)


def smallest_cog(figures: Figures) -> Check | None:
    """The smallest cog against the rear derailleur's limit."""
    setup = figures.bench
    if not figures.chain.tensioned:
        return None
    return _SMALLEST_COG.judge(setup.rear.cogs[0], setup.rear_derailleur.smallest_cog)


def freehub(figures: Figures) -> Check | None:
    """The cassette against the freehub driver: its standard, and the smallest cog that goes on.

    A fixed wheel has none, nor has a hub gear with one cog, unless the file says that it has.
    """
    rear = figures.bench.rear
    alone = len(rear.cogs) == 1 and (rear.fixed or len(rear.hub_ratios) > 1)
    if alone and rear.smallest_cog is None and rear.driver is None:
        return None
    figure, limit = rear.cogs[0], rear.smallest_cog
    known = None not in {rear.cassette_driver, rear.driver}
    if known and rear.cassette_driver != rear.driver:
        return _other_driver(rear, figure)
    if known and limit is None:
        say = f"cassette and driver are both {rear.driver}"
        return Check(_DRIVER.check, Status.OK, figure, None, "teeth", say)
    if not known and limit is not None and len(rear.cogs) > 1 and limit < COMMON_FIRST_COG <= figure:
        return _other_spline(figure, limit)
    return _DRIVER.judge(figure, limit)


def _other_driver(rear: Rear, figure: int) -> Check:
    say = f"the cassette is for {rear.cassette_driver}, the driver is {rear.driver}"
    mend = "take another driver or cassette"
    return Check(
        _DRIVER.check, Status.PROBLEM, figure, rear.smallest_cog, "teeth", f"{say}: {mend}", least=True
    )


def _other_spline(figure: int, limit: int) -> Check:
    """A cassette from 11 on a driver from 10 or 9: two standards, unless the file says that it is one."""
    say = f"cassettes from {figure} and drivers from {limit} have different splines ({COMMON})"
    mend = "match them, or name rear.driver and rear.cassette_driver if they agree"
    return Check(
        _DRIVER.check, Status.PROBLEM, figure, limit, "teeth", f"{say}: {mend}", least=True, default=True
    )


def capacity(figures: Figures) -> Check | None:
    """(Largest ring - smallest ring) + (largest cog - smallest cog) against the derailleur's capacity."""
    if not figures.chain.tensioned:
        return None
    rings, cogs = figures.bench.crank.rings, figures.bench.rear.cogs
    figure = rings[-1] - rings[0] + cogs[-1] - cogs[0]
    return _CAPACITY.judge(figure, figures.bench.rear_derailleur.capacity)


def front_difference(figures: Figures) -> Check | None:
    """Largest ring less smallest ring against the front derailleur's limit."""
    rings = figures.bench.crank.rings
    if len(rings) == 1:
        return None
    return _DIFFERENCE.judge(rings[-1] - rings[0], figures.bench.front_derailleur.difference)


def largest_ring(figures: Figures) -> Check | None:
    """The largest ring against the front derailleur's limit."""
    rings = figures.bench.crank.rings
    if len(rings) == 1:
        return None
    return _LARGEST_RING.judge(rings[-1], figures.bench.front_derailleur.largest_ring)


def frame_clearance(figures: Figures) -> Check | None:
    """The largest ring against what clears the frame, where the setup says so."""
    limit = figures.bench.frame.largest_ring
    return None if limit is None else _CLEARANCE.judge(figures.bench.crank.rings[-1], limit)


def bolt_circle(figures: Figures) -> Check:
    """The smallest ring of each bolt circle against the smallest that goes on it."""
    crank, override = figures.bench.crank, figures.bench.limits.smallest_ring
    figure = crank.rings[0]
    if override is not None:
        return _ring_on(figure, override, override, "the setup's own limit")
    if crank.bolt_circle_mm is None:
        found = needs("bolt circle", "teeth", figure, "crank.bolt_circle_mm")
        say = f"{found.say}: holes' distance x 1.155 (3), 1.414 (4) or 1.701 (5 bolts)"
        return Check(found.check, found.status, figure, None, "teeth", say)
    circles = {figure: crank.bolt_circle_mm}
    if crank.inner_bolt_circle_mm is not None and len(crank.rings) > 1:
        circles = {figure: crank.inner_bolt_circle_mm, crank.rings[1]: crank.bolt_circle_mm}
    checks = [_on_circle(ring, circle) for ring, circle in circles.items()]
    return min(checks, key=lambda c: list(Status).index(c.status))


def _on_circle(ring: int, circle_mm: float) -> Check:
    say = f"a bolt circle of {circle_mm:g} mm by its geometry and {COMMON}"
    return _ring_on(ring, smallest_ring(circle_mm), smallest_ring(circle_mm, SPECIAL_MARGIN_MM), say)


def _ring_on(ring: int, least: int, special: int, why: str) -> Check:
    status, say = (
        Status.PROBLEM,
        f"a ring of {ring} does not clear the bolts: {least} is the smallest on {why}",
    )
    if ring >= least:
        status, say = Status.OK, f"{least} or more go on {why}"
    elif ring >= special:
        look = "only rings made for it fit, look at the ring first"
        status, say = Status.CAUTION, f"{ring} is under the {least} of {why}: {look}"
    return Check("bolt circle", status, ring, least, "teeth", say, least=True, default=COMMON in why)
