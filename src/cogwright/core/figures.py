"""The plain figures of a bench against a baseline: gears, steps, range, chain. The fit checks read them."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

from cogwright.core.chain.axle import AxleFit, axle_of
from cogwright.core.chain.left_out import left_out
from cogwright.core.chain.line import Chainline, chainline_of
from cogwright.core.chain.slack import ChainFigures, chain_of
from cogwright.core.gears import rollout, steps
from cogwright.core.gears.against_baseline import AsFelt, Comparison, as_felt, compare
from cogwright.core.gears.gears import Gear, gain_ratio, gear_inches, gears_of, speed_kmh, wheel_of
from cogwright.core.gears.stood_before import Before, stood_before
from cogwright.core.setup.model import Setup
from cogwright.core.setup.sizes import Circumference


class GearRow(NamedTuple):
    """One gear with everything that is said of it alone; `step_pct` is the step from the gear below.

    `beyond_chain` says that the chain is too short for it.
    """

    gear: Gear
    gear_inches: float
    gain_ratio: float | None
    speed_kmh: float
    step_pct: float | None
    rear_step: steps.RearStep | None
    overlaps: bool
    verdict: rollout.RolloutVerdict | None
    beyond_chain: bool = False

    @property
    def flags(self) -> tuple[str, ...]:
        """The gear's marks, as words."""
        rear = self.rear_step
        marks = {
            "do-not-use": self.beyond_chain,
            "jump": rear is not None and rear.jump,
            "big-jump": rear is not None and rear.big_jump,
            "stands-out": rear is not None and rear.stands_out,
            "overlap": self.overlaps,
            "over-rollout": self.verdict is rollout.RolloutVerdict.FAIL,
            "measure-rollout": self.verdict is rollout.RolloutVerdict.TOO_CLOSE,
        }
        return tuple(name for name, holds in marks.items() if holds)


class Summary(NamedTuple):
    """A setup in a few figures: `jumps` are all steps over the limit, `standing_out` those to mend."""

    gears: int
    distinct: int
    range_pct: float
    lowest_m: float
    highest_m: float
    jumps: int
    standing_out: int
    worst_rear_step_pct: float

    @property
    def overlaps(self) -> int:
        """Gears that another one makes needless."""
        return self.gears - self.distinct


@dataclass(frozen=True, eq=False)
class Figures:
    """A bench against a baseline. Each figure is worked out when it is first read, then kept.

    Two are the same only if they are one object: what is worked out of them elsewhere is kept by it.
    """

    bench: Setup
    baseline: Setup | None = None

    @cached_property
    def wheel(self) -> Circumference:
        """The bench's wheel."""
        return wheel_of(self.bench)

    @cached_property
    def gears(self) -> tuple[Gear, ...]:
        """The bench's gears, easiest first."""
        return gears_of(self.bench)

    @cached_property
    def base_gears(self) -> tuple[Gear, ...]:
        """The baseline's gears, easiest first; none without a baseline."""
        return gears_of(self.baseline) if self.baseline else ()

    @cached_property
    def rear_steps(self) -> tuple[steps.RearStep, ...]:
        """Steps of one rear click, ring by ring."""
        limits = self.bench.limits
        return steps.rear_steps(self.gears, limits.jump_pct, limits.stands_out_times)

    @cached_property
    def overlap_groups(self) -> tuple[tuple[Gear, ...], ...]:
        """Groups of gears too close to tell apart."""
        return steps.overlap_groups(self.gears, self.bench.limits.overlap_pct)

    @cached_property
    def rows(self) -> tuple[GearRow, ...]:
        """One row a gear, easiest first."""
        return _rows(self)

    @cached_property
    def summary(self) -> Summary:
        """The bench in a few figures."""
        return _summary(self.gears, self.rear_steps, self.bench)

    @cached_property
    def comparison(self) -> Comparison | None:
        """Lost, gained and holes against the baseline; None without one."""
        if self.baseline is None:
            return None
        limits = self.bench.limits
        return compare(self.gears, self.base_gears, limits.overlap_pct, limits.jump_pct)

    @cached_property
    def before(self) -> Mapping[Gear, Before]:
        """The baseline's gear that each gear of the bench takes the place of; none without a baseline."""
        if self.baseline is None:
            return {}
        return stood_before(self.bench, self.baseline, self.gears, self.base_gears)

    @cached_property
    def base_steps(self) -> tuple[steps.RearStep, ...]:
        """The baseline's steps of one rear click, by the limits of the bench."""
        limits = self.bench.limits
        return steps.rear_steps(self.base_gears, limits.jump_pct, limits.stands_out_times)

    @cached_property
    def base_summary(self) -> Summary | None:
        """The baseline in a few figures, by the limits of the bench; None without one."""
        return _summary(self.base_gears, self.base_steps, self.bench) if self.baseline else None

    @cached_property
    def beyond_chain(self) -> tuple[Gear, ...]:
        """The bench's gears that its chain is too short for, easiest first."""
        pairs = {(gear.ring, gear.cog) for gear in self.chain.too_short_for}
        return tuple(gear for gear in self.gears if (gear.ring, gear.cog) in pairs)

    @cached_property
    def left_out(self) -> Mapping[Gear, str]:
        """The bench's gears that nobody rides, with the reason: the chain too short for them, or crossed."""
        return left_out(self.bench, self.gears)

    @cached_property
    def felt(self) -> AsFelt | None:
        """Gears lost and gained as a rider feels it; None without a baseline."""
        if self.baseline is None or self.comparison is None:
            return None
        overlap = self.bench.limits.overlap_pct
        base_out = left_out(self.baseline, self.base_gears)
        return as_felt(self.comparison, self.left_out, base_out, overlap)

    @cached_property
    def chain(self) -> ChainFigures:
        """How long the chain must be, and what the installed one leaves in each gear."""
        return chain_of(self.bench)

    @cached_property
    def axle(self) -> AxleFit | None:
        """Where the axle must stand without a derailleur; None with one."""
        return axle_of(self.chain)

    @cached_property
    def chainline(self) -> Chainline:
        """The angle of the chain in each gear, and the gears to avoid."""
        return chainline_of(self.bench)

    @cached_property
    def scrutiny(self) -> rollout.Scrutiny | None:
        """The gears against the race limit; None without one."""
        limit = self.bench.limits.rollout_m
        return rollout.scrutinise(self.gears, limit, self.wheel) if limit else None


def _summary(gears: Sequence[Gear], clicks: Sequence[steps.RearStep], judged_by: Setup) -> Summary:
    developments = [gear.development_m for gear in gears]
    return Summary(
        gears=len(gears),
        distinct=len(steps.overlap_groups(gears, judged_by.limits.overlap_pct)),
        range_pct=steps.range_pct(developments),
        lowest_m=developments[0],
        highest_m=developments[-1],
        jumps=sum(step.jump for step in clicks),
        standing_out=sum(step.stands_out for step in clicks),
        worst_rear_step_pct=max((step.step_pct for step in clicks), default=0.0),
    )


def _rows(of: Figures) -> tuple[GearRow, ...]:
    crank, rpm, limit = of.bench.crank.length_mm, of.bench.rider.cadence_rpm[1], of.bench.limits.rollout_m
    below = (None, *steps.steps_pct([g.development_m for g in of.gears]))
    rear = {step.harder: step for step in of.rear_steps}
    crowd, beyond = _group_sizes(of.overlap_groups), {*of.beyond_chain}
    return tuple(
        GearRow(
            gear=gear,
            gear_inches=gear_inches(gear.ratio, of.wheel.m),
            gain_ratio=gain_ratio(gear.ratio, of.wheel.m, crank) if crank else None,
            speed_kmh=speed_kmh(gear.development_m, rpm),
            step_pct=step,
            rear_step=rear.get(gear),
            overlaps=crowd[gear] > 1,
            verdict=rollout.judge(gear.development_m, limit, of.wheel) if limit else None,
            beyond_chain=gear in beyond,
        )
        for gear, step in zip(of.gears, below, strict=True)
    )


def _group_sizes(groups: tuple[tuple[Gear, ...], ...]) -> Mapping[Gear, int]:
    return Counter({gear: len(group) for group in groups for gear in group})
