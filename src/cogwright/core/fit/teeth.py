"""Checks of tooth counts against what makers and mountings allow."""

from dataclasses import dataclass
from typing import Final

from cogwright.core.chain.bolt_circle import SPECIAL_MARGIN_MM, smallest_ring
from cogwright.core.figures import Figures
from cogwright.core.fit.check import COMMON, Check, Status, needs


@dataclass(frozen=True, slots=True)
class _Limit:
    """A limit that someone states: the check's name, the key that gives it, whose it is, how to mend."""

    check: str
    key: str
    part: str
    mend: str

    def judge(self, figure: int, limit: int | None) -> Check:
        """Teeth, no more than the limit."""
        if limit is None:
            return needs(self.check, "teeth", figure, self.key)
        bar = (float(figure), float(limit))
        if figure <= limit:
            return Check(
                self.check, Status.OK, figure, limit, "teeth", f"{self.part} takes up to {limit}", bar
            )
        say = f"{figure} teeth where {self.part} takes {limit}: {self.mend}"
        return Check(self.check, Status.PROBLEM, figure, limit, "teeth", say, bar)


_LARGEST_COG: Final = _Limit(
    "largest cog",
    "rear_derailleur.largest_cog",
    "the rear derailleur",
    "fit one with a higher limit, or a smaller cog",
)
_CAPACITY: Final = _Limit(
    "capacity",
    "rear_derailleur.capacity",
    "the rear derailleur's cage",
    "fit a longer cage, or the chain hangs slack in the small gears",
)
_DIFFERENCE: Final = _Limit(
    "front difference",
    "front_derailleur.difference",
    "the front derailleur",
    "bring the rings closer, or fit another front derailleur",
)
_LARGEST_RING: Final = _Limit(
    "largest ring",
    "front_derailleur.largest_ring",
    "the front derailleur",
    "take a smaller ring, or fit another front derailleur",
)
_CLEARANCE: Final = _Limit(
    "frame clearance",
    "frame.largest_ring",
    "the frame",
    "it can touch the chainstay: take a smaller ring",
)


def largest_cog(figures: Figures) -> Check | None:
    """The largest cog against the rear derailleur's limit."""
    setup = figures.bench
    if not figures.chain.tensioned:
        return None
    return _LARGEST_COG.judge(setup.rear.cogs[-1], setup.rear_derailleur.largest_cog)


def smallest_cog(figures: Figures) -> Check | None:
    """The smallest cog against the rear derailleur's limit."""
    if not figures.chain.tensioned:
        return None
    figure, limit = figures.bench.rear.cogs[0], figures.bench.rear_derailleur.smallest_cog
    if limit is None:
        return needs("smallest cog", "teeth", figure, "rear_derailleur.smallest_cog")
    if figure >= limit:
        say = f"the rear derailleur goes down to {limit}"
        return Check("smallest cog", Status.OK, figure, limit, "teeth", say, least=True)
    say = f"{figure} teeth are under the rear derailleur's {limit}: expect poor shifts, or take {limit}"
    return Check("smallest cog", Status.CAUTION, figure, limit, "teeth", say, least=True)


def freehub(figures: Figures) -> Check:
    """The smallest cog against what the freehub driver or hub takes."""
    figure, limit = figures.bench.rear.cogs[0], figures.bench.rear.smallest_cog
    if limit is None:
        return needs("freehub driver", "teeth", figure, "rear.smallest_cog")
    if figure >= limit:
        say = f"the driver takes cogs down to {limit}"
        return Check("freehub driver", Status.OK, figure, limit, "teeth", say, least=True)
    say = f"a cog of {figure} does not go on this driver: take {limit} or more, or another driver body"
    return Check("freehub driver", Status.PROBLEM, figure, limit, "teeth", say, least=True)


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
