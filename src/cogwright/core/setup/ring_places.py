"""Where rings stand when some of a crank's leave or come: those that stay keep their places."""

from collections.abc import Sequence
from itertools import accumulate, combinations, pairwise
from typing import Final

from cogwright.core.setup.drivetrain import Crank
from cogwright.core.setup.spacing import each

#: Centre to centre of neighbouring rings, mm (common practice, no source).
RING_SPACING_MM: Final = 7.5


def places(chainline_mm: float, gaps_mm: Sequence[float]) -> list[float]:
    """Distance of each sprocket from the bike's middle plane, mm, innermost first.

    >>> places(45.0, [8.0]), places(47.5, [8.0, 7.0]), places(45.0, [])
    ([41.0, 49.0], [40.0, 48.0, 55.0], [45.0])
    """
    return list(accumulate(gaps_mm, initial=chainline_mm - sum(gaps_mm) / 2.0))


def with_rings(crank: Crank, rings: tuple[int, ...]) -> Crank:
    """The crank with other rings, ascending; its chainline is the middle of those that are on it.

    A ring left alone stands where it stood among the others. A new one takes the place of the ring nearest in
    teeth; one that comes beside the others goes inside the smallest or outside the largest.

    >>> alone = with_rings(Crank(rings=(28, 42), chainline_mm=44.5, ring_spacing_mm=8.0), (42,))
    >>> alone.chainline_mm
    48.5
    """
    changed = crank.model_copy(update={"rings": rings})
    stand = _stand(crank)
    if stand is None or len(rings) == len(crank.rings):
        return changed
    now = _fewer(crank, stand, rings) if len(rings) < len(stand) else _more(crank, stand, rings)
    if now is None:
        return changed
    gaps = tuple(round(outer - inner, 6) for inner, outer in pairwise(now))
    update: dict[str, object] = {"chainline_mm": round((now[0] + now[-1]) / 2.0, 6)}
    if gaps and gaps != each(_spacing(crank), len(gaps)):
        update["ring_spacing_mm"] = gaps[0] if len(set(gaps)) == 1 else gaps
    return changed.model_copy(update=update)


def _spacing(crank: Crank) -> float | tuple[float, ...]:
    return RING_SPACING_MM if crank.ring_spacing_mm is None else crank.ring_spacing_mm


def _stand(crank: Crank) -> list[float] | None:
    """Where the rings stand; None when that is not known."""
    gaps = each(_spacing(crank), len(crank.rings) - 1)
    return None if gaps is None or crank.chainline_mm is None else places(crank.chainline_mm, gaps)


def _fewer(crank: Crank, stand: Sequence[float], rings: tuple[int, ...]) -> list[float]:
    """The places that so many rings take: as near in teeth as may be to the rings that stood there."""
    there = list(zip(crank.rings, stand, strict=True))
    first = 1 if crank.inner_bolt_circle_mm is not None and rings[0] != crank.rings[0] else 0
    free = there[first:] if len(there) - first >= len(rings) else there

    def moved(taken: Sequence[tuple[int, float]]) -> int:
        return sum(abs(old - new) for (old, _), new in zip(taken, rings, strict=True))

    return [place for _, place in min(combinations(free, len(rings)), key=moved)]


def _more(crank: Crank, stand: Sequence[float], rings: tuple[int, ...]) -> list[float] | None:
    """The places with rings beside the others; None where one comes between them or all are new."""
    spacing = _spacing(crank)
    gap = spacing if isinstance(spacing, float | int) else spacing[0]
    inside = sum(ring < crank.rings[0] for ring in rings)
    if rings[inside : inside + len(stand)] != crank.rings:
        return None
    outside = len(rings) - inside - len(stand)
    inner = [stand[0] - gap * i for i in range(inside, 0, -1)]
    return [*inner, *stand, *(stand[-1] + gap * i for i in range(1, outside + 1))]
