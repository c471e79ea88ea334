"""Going to a single ring: every ring with every chosen cassette, and which ring serves what."""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Final

from cogwright.core.common.units import percent
from cogwright.core.gears.gears import gears_of, wheel_of
from cogwright.core.parts.bin import Bin
from cogwright.core.proposing.choices import CassetteChoice, RingChoice
from cogwright.core.proposing.common_teeth import COMMON_RINGS, RARE
from cogwright.core.proposing.course_score import ScoreOnCourse
from cogwright.core.proposing.kit import RingSet, Variant, with_sprockets_of
from cogwright.core.proposing.lost_range import LostRange, lost_between
from cogwright.core.proposing.priced import priced
from cogwright.core.proposing.proposal import Proposal
from cogwright.core.setup.model import MAX_TEETH, MIN_TEETH, Setup

KEEPS_BOTTOM: Final = "keeps bottom"
KEEPS_TOP: Final = "keeps top"
SPLITS: Final = "shares the loss between both ends"
LEGAL: Final = "largest legal"
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
    course_score: ScoreOnCourse | None = None,
    stock: Bin | None = None,
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
        for proposal in _with_cassette(_Case(setup, base, cassette, stock), offered, course_score)
    ]
    return tuple(sorted(found, key=rank))


@dataclass(frozen=True)
class _Case:
    """One cassette on the bike, before a ring is chosen."""

    setup: Setup
    baseline: Setup
    cassette: CassetteChoice
    stock: Bin | None

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

    @cached_property
    def largest_legal(self) -> int | None:
        """The largest ring whose highest gear keeps to the race limit; None without a limit."""
        limit = self.setup.limits.rollout_m
        return None if limit is None else math.floor(limit / self.per_tooth[1] + _SAME)

    def reach(self) -> list[int]:
        """The rings from the one that keeps the bottom to the one that keeps the top, and some beyond.

        Under a race limit the largest legal one is among them.
        """
        fits = sorted(base / each for base, each in zip(self.base, self.per_tooth, strict=True))
        first = math.floor(fits[0] + _SAME) - _MARGIN
        last = math.ceil(fits[1] - _SAME) + _MARGIN
        legal = [] if self.largest_legal is None else [self.largest_legal]
        return [n for n in sorted({*range(first, last + 1), *legal}) if MIN_TEETH <= n <= MAX_TEETH]

    def rings(self, offered: Sequence[RingChoice]) -> list[RingChoice]:
        """The rings to look at: those offered, else all within reach; and those on the bike."""
        crank = self.setup.crank
        alone = crank.retaining_teeth if len(crank.rings) == 1 else None
        own = [RingChoice(n, on_bike=True, retaining=alone) for n in crank.rings]
        every = list(offered) or [RingChoice(n) for n in self.reach()]
        # A ring that is only on the bench comes out of the bin, where that has one.
        bought = {ring.teeth for ring in offered} - set(self.baseline.crank.rings)
        own = [ring for ring in own if ring.teeth not in bought]
        kept = own if offered else [ring for ring in own if ring.teeth in self.reach()]
        # Of rings alike the one on the bike is taken; one that keeps the chain on is another.
        found = {(ring.teeth, bool(ring.retaining)): ring for ring in (*every, *kept)}
        return [found[key] for key in sorted(found)]

    def marks(self, rings: Sequence[int]) -> Mapping[int, tuple[str, ...]]:
        """The rings that keep bottom or top, share the loss or are just legal, with those words."""
        keep_low = [ring for ring in rings if self.ends(ring)[0] <= _SAME]
        keep_high = [ring for ring in rings if self.ends(ring)[1] >= -_SAME]
        legal = [ring for ring in rings if self.largest_legal is not None and ring <= self.largest_legal]
        served = {
            KEEPS_BOTTOM: max(keep_low, default=None),
            KEEPS_TOP: min(keep_high, default=None),
            SPLITS: min(rings, key=lambda ring: abs(sum(self.ends(ring))), default=None),
            LEGAL: max(legal, default=None),
        }
        return {ring: tuple(word for word, best in served.items() if best == ring) for ring in rings}


def _with_cassette(
    case: _Case, offered: Sequence[RingChoice], course_score: ScoreOnCourse | None
) -> list[Proposal]:
    rings = case.rings(offered)
    rare = {ring: _rare(ring, offered) for ring in rings}
    # What serves best is one that can be bought.
    marks = case.marks(sorted({ring.teeth for ring in rings if not rare[ring]}))
    found = [_proposal(case, ring, (*marks.get(ring.teeth, ()), *rare[ring])) for ring in rings]
    return found if course_score is None else _marked_on_course(found, course_score)


def _rare(ring: RingChoice, offered: Sequence[RingChoice]) -> tuple[str, ...]:
    """A ring that is neither on the bike nor in the bin, and of no common tooth count."""
    return () if offered or ring.on_bike or ring.teeth in COMMON_RINGS else (RARE,)


def _proposal(case: _Case, ring: RingChoice, marks: tuple[str, ...]) -> Proposal:
    rings = RingSet((ring,), (ring.teeth,))
    variant = Variant(1.0, case.cassette.cogs, case.cassette, (), ())
    found = priced(case.baseline, with_sprockets_of(case.setup, rings, variant), case.stock)
    low, high = case.ends(ring.teeth)
    return Proposal(
        kind="single",
        setup=found.setup,
        title=f"single ring {ring.teeth} with {case.cassette.called()}",
        lost=lost_between(found.setup, case.baseline),
        **found.facts,
        marks=marks,
        reasons=_reasons((low, high), marks),
        change=(percent(math.exp(low)), percent(math.exp(high))),
    )


def _reasons(ends: tuple[float, float], marks: tuple[str, ...]) -> tuple[str, ...]:
    served = {
        KEEPS_BOTTOM: "the largest ring that keeps the lowest gear",
        KEEPS_TOP: "the smallest ring that keeps the highest gear",
        SPLITS: "the ring that shares the loss between both ends as evenly as may be",
        LEGAL: "the largest ring whose highest gear keeps to the race limit",
        RARE: "a ring of so many teeth is hard to come by",
    }
    low, high = ends
    return (*(served[mark] for mark in marks), end_words("lowest", low), end_words("highest", high))


def end_words(end: str, change: float) -> str:
    """What a change of the lowest or highest gear, as a log, means.

    >>> end_words("lowest", math.log(0.9))
    "the lowest gear is 10.0 % easier than the baseline's"
    >>> end_words("highest", math.log(0.9))
    "the highest gear is 10.0 % lower than the baseline's"
    """
    if abs(change) <= _SAME:
        return f"the {end} gear stays as in the baseline"
    less, more = ("easier", "harder") if end == "lowest" else ("lower", "higher")
    feel = more if change > 0 else less
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


def rank(proposal: Proposal) -> tuple[bool, bool, int, float, float, float, int, int]:
    """What goes together before what does not, common rings before rare ones, the fewest problems first.

    Then least range lost, that shared evenly, the smallest largest step, fewest cautions, the smaller ring.
    """
    lost = proposal.lost or LostRange(0.0, 0.0)
    uneven = round(abs(lost.low - lost.high), 9)
    return (
        bool(proposal.problems),
        RARE in proposal.marks,
        len(proposal.problems),
        round(lost.low + lost.high, 9),
        uneven,
        proposal.worst_step_pct,
        len(proposal.cautions),
        proposal.rings[0],
    )
