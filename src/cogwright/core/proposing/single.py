"""Going to a single ring: every ring with every chosen cassette, and which ring serves what."""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Final

from cogwright.core.common.units import percent
from cogwright.core.gears.gears import gears_of, wheel_of
from cogwright.core.proposing.choices import CassetteChoice, RingChoice, with_rings_and_cassette
from cogwright.core.proposing.course_score import ScoreOnCourse
from cogwright.core.proposing.lost_range import LostRange, lost_between
from cogwright.core.proposing.pool import sum_known
from cogwright.core.proposing.proposal import Judge, Proposal, not_judged
from cogwright.core.setup.model import MAX_TEETH, MIN_TEETH, Setup

KEEPS_BOTTOM: Final = "keeps bottom"
KEEPS_TOP: Final = "keeps top"
SPLITS: Final = "shares the loss between both ends"
BEST_ON_COURSE: Final = "best on course"
#: Ends within this of each other, as a log, are the same: rounding must not lose a gear.
_SAME: Final = 1e-9
#: Rings shown beyond those that keep the bottom and the top, in teeth. Our own choice.
_MARGIN: Final = 2


def single_ring(
    setup: Setup,
    baseline: Setup | None = None,
    cassettes: Iterable[CassetteChoice] = (),
    rings: Iterable[RingChoice] = (),
    *,
    judge: Judge = not_judged,
    course_score: ScoreOnCourse | None = None,
    currency: str = "",
) -> tuple[Proposal, ...]:
    """One ring with each of the cassettes (that on the bench without any), best first.

    Out of the rings given; without any, every tooth count from the ring that keeps the bottom to the one
    that keeps the top and two beyond. Best is: fewest problems, least range lost, then the loss spread
    most evenly over both ends.
    """
    base = baseline or setup
    chosen = tuple(cassettes) or (CassetteChoice.of(setup, on_bike=True),)
    offered = tuple(rings)
    found = [
        proposal
        for cassette in chosen
        for proposal in _with_cassette(_Case(setup, base, cassette, judge, currency), offered, course_score)
    ]
    return tuple(sorted(found, key=rank))


@dataclass(frozen=True)
class _Case:
    """One cassette on the bike, before a ring is chosen."""

    setup: Setup
    baseline: Setup
    cassette: CassetteChoice
    judge: Judge
    currency: str = ""

    @cached_property
    def base(self) -> tuple[float, float]:
        """Lowest and highest development of the baseline, m."""
        gears = gears_of(self.baseline)
        return gears[0].development_m, gears[-1].development_m

    @cached_property
    def per_tooth(self) -> tuple[float, float]:
        """Lowest and highest development per tooth of the ring, m."""
        hubs, wheel = self.setup.rear.hub_ratios, wheel_of(self.setup).m
        return min(hubs) * wheel / self.cassette.cogs[-1], max(hubs) * wheel / self.cassette.cogs[0]

    def ends(self, ring: int) -> tuple[float, float]:
        """How far both ends lie above the baseline's, as logs."""
        (low, high), (base_low, base_high) = self.per_tooth, self.base
        return math.log(ring * low / base_low), math.log(ring * high / base_high)

    def reach(self) -> range:
        """The rings from the one that keeps the bottom to the one that keeps the top, and some beyond."""
        fits = sorted(base / each for base, each in zip(self.base, self.per_tooth, strict=True))
        first = max(math.floor(fits[0] + _SAME) - _MARGIN, MIN_TEETH)
        last = min(math.ceil(fits[1] - _SAME) + _MARGIN, MAX_TEETH)
        return range(first, last + 1)

    def marks(self, rings: Sequence[int]) -> Mapping[int, tuple[str, ...]]:
        """The rings that keep the bottom, keep the top and split the loss, with those words."""
        keep_low = [ring for ring in rings if self.ends(ring)[0] <= _SAME]
        keep_high = [ring for ring in rings if self.ends(ring)[1] >= -_SAME]
        served = {
            KEEPS_BOTTOM: max(keep_low, default=None),
            KEEPS_TOP: min(keep_high, default=None),
            SPLITS: min(rings, key=lambda ring: abs(sum(self.ends(ring))), default=None),
        }
        return {ring: tuple(word for word, best in served.items() if best == ring) for ring in rings}


def _with_cassette(
    case: _Case, offered: Sequence[RingChoice], course_score: ScoreOnCourse | None
) -> list[Proposal]:
    choices = {ring.teeth: ring for ring in offered} or {n: RingChoice(n) for n in case.reach()}
    choices |= {
        n: RingChoice(n, price=0.0, on_bike=True) for n in case.setup.crank.rings if offered or n in choices
    }
    marks = case.marks(sorted(choices))
    found = [_proposal(case, ring, marks[teeth]) for teeth, ring in sorted(choices.items())]
    return found if course_score is None else _marked_on_course(found, course_score)


def _proposal(case: _Case, ring: RingChoice, marks: tuple[str, ...]) -> Proposal:
    changed = with_rings_and_cassette(case.setup, (ring.teeth,), case.cassette)
    low, high = case.ends(ring.teeth)
    return Proposal(
        kind="single",
        setup=changed,
        title=f"single ring {ring.teeth} with {case.cassette.called()}",
        lost=lost_between(changed, case.baseline),
        cost=sum_known((ring.price, case.cassette.price)),
        currency=case.currency,
        fits=tuple(part.called() for part in (ring, case.cassette) if not part.on_bike),
        **case.judge(changed)._asdict(),
        marks=marks,
        reasons=_reasons((low, high), marks),
        change=(percent(math.exp(low)), percent(math.exp(high))),
    )


def _reasons(ends: tuple[float, float], marks: tuple[str, ...]) -> tuple[str, ...]:
    served = {
        KEEPS_BOTTOM: "the largest ring that keeps the lowest gear",
        KEEPS_TOP: "the smallest ring that keeps the highest gear",
        SPLITS: "the ring that comes nearest to losing as much below as above",
    }
    low, high = ends
    return (*(served[mark] for mark in marks), end_words("lowest", low), end_words("highest", high))


def end_words(end: str, change: float) -> str:
    """What a change of the lowest or highest gear, as a log, means.

    >>> end_words("lowest", math.log(0.9))
    "the lowest gear is 10.0 % easier than the baseline's"
    """
    if abs(change) <= _SAME:
        return f"the {end} gear stays as in the baseline"
    feel = "harder" if change > 0 else "easier"
    return f"the {end} gear is {abs(percent(math.exp(change))):.1f} % {feel} than the baseline's"


def _marked_on_course(found: list[Proposal], course_score: ScoreOnCourse) -> list[Proposal]:
    """The proposals with their scores in words; the best is marked, of equals the better rank."""
    scores = [course_score(proposal.setup) for proposal in found]
    said = [replace(p, reasons=(*p.reasons, s.say)) if s else p for p, s in zip(found, scores, strict=True)]
    scored = [
        (score.key, rank(proposal), at)
        for at, (score, proposal) in enumerate(zip(scores, said, strict=True))
        if score
    ]
    if scored:
        *_, best = min(scored)
        said[best] = replace(said[best], marks=(*said[best].marks, BEST_ON_COURSE))
    return said


def rank(proposal: Proposal) -> tuple[int, float, float, float, int]:
    """Fewest problems, least range lost, that spread evenly, the smallest largest step, the smaller ring."""
    lost = proposal.lost or LostRange(0.0, 0.0)
    uneven = round(abs(lost.low - lost.high), 9)
    return (
        len(proposal.problems),
        round(lost.low + lost.high, 9),
        uneven,
        proposal.worst_step_pct,
        proposal.rings[0],
    )
