"""Checks of a tandem's timing chain: its length and phase, and its wear."""

from typing import Final

from cogwright.core.chain.timing import TimingFigures, timing_of
from cogwright.core.figures import Figures
from cogwright.core.fit.check import COMMON, Check, Status, needs
from cogwright.core.wear.stretch import CHANGE_PCT, reaches

_SAME: Final = 1e-6


def timing_chain(figures: Figures) -> Check | None:
    """The timing chain's links against the way round both rings, within what the eccentric takes up."""
    of = timing_of(figures.bench)
    if of is None:
        return None
    if of.of.rings is not None and of.of.rings[0] != of.of.rings[1]:
        front, back = of.of.rings
        say = f"rings of {front} and {back} teeth: the cranks run out of phase; fit two alike"
        return Check("timing chain", Status.PROBLEM, of.of.links, None, "links", say)
    if of.missing:
        found = needs("timing chain", "links", of.of.links, *of.missing)
        say = found.say if of.fit is None else f"{found.say}; the rings take {of.fit} links"
        return Check("timing chain", Status.UNKNOWN, of.of.links, of.fit, "links", say)
    if of.needed is None:
        say = "the rings would touch: check timing_chain.centres_mm"
        return Check("timing chain", Status.PROBLEM, of.of.links, None, "links", say)
    status, say = _length(of, of.needed)
    return Check("timing chain", status, of.of.links, of.fit, "links", say, least=True)


def _length(of: TimingFigures, needed: float) -> tuple[Status, str]:
    links = of.of.links or 0
    if links < needed - _SAME:
        return (
            Status.PROBLEM,
            f"does not go round {needed:.2f} links of straight way; fit {of.fit}",
        )
    if links % 2:
        return Status.CAUTION, f"{links} is an odd number: it joins only with a half link"
    rest = links - needed
    if of.furthest is None:
        say = f"needs timing_chain.eccentric_mm in the setup; {rest:.2f} links are to be taken up"
        return Status.UNKNOWN, say
    if links > of.furthest + _SAME:
        say = f"{rest:.2f} links over the straight way, more than the eccentric takes up: fit one of {of.fit}"
        return Status.PROBLEM, say
    return Status.OK, f"{rest:.2f} links over the straight way: the eccentric takes that up"


def timing_wear(figures: Figures) -> Check | None:
    """The timing chain's stretch: it wears by itself, and slack in it lets the cranks run out of step."""
    pct, own = figures.bench.timing_chain.stretch_pct, figures.bench.limits.chain_wear_pct
    if pct is None:
        return None
    limit = CHANGE_PCT[1] if own is None else own
    bar = (pct, limit)
    if not reaches(pct, limit):
        say = "take up its slack with the eccentric as it grows"
        return Check("timing wear", Status.OK, pct, limit, "%", say, bar, default=own is None)
    basis = f" ({COMMON}; the maker's limit wins)" if own is None else ""
    say = f"change it, and look at both its rings{basis}"
    return Check("timing wear", Status.CAUTION, pct, limit, "%", say, bar, default=own is None)
