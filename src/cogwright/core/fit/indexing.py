"""Checks of indexing: whether each click lands the chain on its sprocket, by the figures of the file."""

from typing import Final

from cogwright.core.common.words import listed
from cogwright.core.figures import Figures
from cogwright.core.fit.check import COMMON, Check, Status, needs
from cogwright.core.indexing.clicks import Clicks
from cogwright.core.indexing.indexing import Indexing, front_indexing, rear_indexing

UNIT: Final = "% pitch"


def indexing(figures: Figures) -> Check | None:
    """The rear shifter's clicks against the pitch of the cogs."""
    return _check("indexing", rear_indexing(figures.bench), "cog", figures)


def indexing_front(figures: Figures) -> Check | None:
    """The front shifter's clicks against the spacing of the rings."""
    return _check("front indexing", front_indexing(figures.bench), "ring", figures)


def _check(name: str, of: Indexing, sprocket: str, figures: Figures) -> Check | None:
    if not of.given:
        return None
    clicks = of.clicks
    if clicks is None:
        return needs(name, UNIT, None, *of.missing)
    status, say = _judged(clicks, of, sprocket)
    own = figures.bench.limits.index_error_pct is not None
    basis = "" if own else f" ({COMMON}: {clicks.limits_pct[0]:g} % is well)"
    figure = round(abs(clicks.worst.off_pct), 6)
    bar = (figure, clicks.limits_pct[0]) if clicks.limits_pct[0] else None
    return Check(name, status, figure, clicks.limits_pct[0], UNIT, say + basis, bar, default=not own)


def _judged(clicks: Clicks, of: Indexing, sprocket: str) -> tuple[Status, str]:
    worst = clicks.worst
    where = f"set on {sprocket} {clicks.set_on}, {sprocket} {worst.teeth} is off most, {worst.off_mm:+.2f} mm"
    if clicks.well:
        return Status.OK, f"ok by the figures: {where}"
    if not clicks.hopeless:
        return Status.CAUTION, f"may hesitate or rub: {where}; {_wanted(clicks, of)}"
    other = of.turned_round
    turned = f"; or is {of.ratio[1]:g} the reciprocal of {other:.2f}?" if other is not None else ""
    return Status.PROBLEM, f"does not index: {where}; {_wanted(clicks, of)}{turned}"


def _wanted(clicks: Clicks, of: Indexing) -> str:
    """What would make every click right: another pull, another ratio or another spacing."""
    ratio = of.ratio[1] or 1.0
    moved, apart = sum(clicks.travel_mm), sum(clicks.gaps_mm)
    pull, pitch = apart / ratio / of.gaps, moved / of.gaps
    wanted = [f"{pull:.2f} mm of cable a click", f"a ratio of {ratio * apart / moved:.2f}"]
    return f"it wants {listed([*wanted, f'a pitch of {pitch:.2f} mm'], 'or')}"
