"""The story of a change as lines and as data: a line a step, with what it did."""

from collections.abc import Iterator, Sequence

from cogwright.core.common.words import count, few
from cogwright.core.comparing.story import StoryStep
from cogwright.present.lines import Line, Look, Role, Span, line, wrap
from cogwright.present.report.values import rounded

#: An end that moves by less than this has not been felt by anybody, %.
_FELT = 0.05
NOTHING = "no gear changes"


def story_lines(steps: Sequence[StoryStep], currency: str, look: Look) -> list[Line]:
    """A numbered line a step, wrapped below its words where there is no room."""
    rows: list[Line] = []
    for number, step in enumerate(steps, 1):
        told = f"{step.say}: {', '.join(effects(step, currency)) or NOTHING}."
        first, *more = wrap(told, look.width - 4, _role(step), "  ")
        rows += [line(Span(f"{number:>2}  ", Role.KEY), first), *(line("    ", row) for row in more)]
    return rows


def effects(step: StoryStep, currency: str) -> Iterator[str]:
    """What a step did, as far as it did anything; each with its unit."""
    yield from felt_effects(step)
    was, now = step.over_limit
    if was != now:
        yield f"steps over {step.after.bench.limits.jump_pct:g} %: {now} (was {was})"
    before, after = step.widest_pct
    if abs(before - after) >= _FELT:
        yield f"largest step {after:.1f} % (was {before:.1f})"
    yield from _chain(*step.short_links)
    if currency and abs(step.cost) >= 0.005:
        yield f"parts {step.cost:+.2f} {currency}"
    if currency and step.unpriced:
        yield f"no price for {few([name.split(',', maxsplit=1)[0] for name in step.unpriced], 2)}"


def felt_effects(step: StoryStep) -> Iterator[str]:
    """What a rider feels of it: both ends, and jumps."""
    yield from _end("lowest", step.low_pct, "easier", "harder")
    yield from _end("highest", step.high_pct, "lower", "higher")
    was, now = step.jumps
    if was != now:
        yield f"jumps {now} (was {was})"


def _end(name: str, change_pct: float, less: str, more: str) -> Iterator[str]:
    if abs(change_pct) >= _FELT:
        yield f"{name} {abs(change_pct):.1f} % {less if change_pct < 0 else more}"


def _chain(was: int, now: int) -> Iterator[str]:
    if now and now != was:
        yield f"chain {count(now, 'link')} short"
    elif was and not now:
        yield "chain long enough again"


def _role(step: StoryStep) -> Role:
    if step.short_links[1] > step.short_links[0]:
        return Role.PROBLEM
    lost = step.low_pct >= _FELT or step.high_pct <= -_FELT
    gained = step.low_pct <= -_FELT or step.high_pct >= _FELT
    return Role.TEXT if lost is gained else Role.LOST if lost else Role.GAINED


def story_json(steps: Sequence[StoryStep]) -> list[dict[str, object]]:
    """The steps as plain values; ends in %, costs in the bin's currency."""
    return [
        {
            "say": step.say,
            "low_change_pct": rounded(step.low_pct),
            "high_change_pct": rounded(step.high_pct),
            "jumps": step.over_limit[1],
            "standing_out": step.jumps[1],
            "worst_step_pct": rounded(step.widest_pct[1]),
            "chain_short_links": step.short_links[1],
            "parts_cost": round(step.cost, 2),
            "unpriced": list(step.unpriced),
        }
        for step in steps
    ]
