"""What the study finds, in words: what is lost, what rides badly, and what to do about it."""

from collections.abc import Sequence
from dataclasses import dataclass

from cogwright.core.compare import Comparison, Hole
from cogwright.core.gearing import Gear
from cogwright.core.rollout import Verdict
from cogwright.core.steps import RearStep
from cogwright.core.study import Study
from cogwright.core.units import percent
from cogwright.present.lines import Line, Look, Role, Span, line, wrap


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing worth saying, and what it means."""

    role: Role
    say: str


def findings(study: Study) -> tuple[Finding, ...]:
    """Everything worth saying of the gears, the most important first."""
    return (*_rollout(study), *_range(study), *_jumps(study), *_holes(study), *_overlaps(study))


def _named(gears: Sequence[Gear]) -> str:
    names = [gear.label for gear in gears]
    return ", ".join(names[:4]) + (f" and {len(names) - 4} more" if len(names) > 4 else "")


def _range(study: Study) -> list[Finding]:
    against = study.comparison
    low, high = study.gears[0], study.gears[-1]
    if against is None:
        text = f"Lowest {low.label}, {low.development_m:.2f} m; highest {high.label}, "
        return [Finding(Role.TEXT, f"{text}{high.development_m:.2f} m.")]
    return [_low(study, against), _high(study, against)]


def _low(study: Study, against: Comparison) -> Finding:
    change, before = against.low_change_pct, study.base_gears[0]
    now = study.gears[0]
    text = f"{now.development_m:.2f} m ({now.label}), was {before.development_m:.2f} m ({before.label})"
    if abs(change) < 0.05:
        return Finding(Role.OK, f"Lowest gear as before: {text}.")
    if change > 0:
        gone = f" Lost: {_named(against.lost_low)}." if against.lost_low else " Too little to feel."
        return Finding(Role.LOST, f"Lowest gear {change:.1f} % harder: {text}.{gone}")
    return Finding(Role.GAINED, f"Lowest gear {-change:.1f} % easier: {text}.")


def _high(study: Study, against: Comparison) -> Finding:
    change, before = against.high_change_pct, study.base_gears[-1]
    now = study.gears[-1]
    text = f"{now.development_m:.2f} m ({now.label}), was {before.development_m:.2f} m ({before.label})"
    if abs(change) < 0.05:
        return Finding(Role.OK, f"Highest gear as before: {text}.")
    if change < 0:
        gone = f" Lost: {_named(against.lost_high)}." if against.lost_high else " Too little to feel."
        return Finding(Role.LOST, f"Highest gear {-change:.1f} % shorter: {text}.{gone}")
    return Finding(Role.GAINED, f"Highest gear {change:.1f} % longer: {text}.")


def _jumps(study: Study) -> list[Finding]:
    """One finding a pair of cogs: rings share their steps."""
    worst = sorted((s for s in study.rear_steps if s.jump), key=lambda s: -s.step_pct)
    seen: dict[tuple[int, int, float], list[RearStep]] = {}
    for step in worst:
        seen.setdefault((step.easier.cog, step.harder.cog, round(step.step_pct, 6)), []).append(step)
    return [_jump(steps) for steps in seen.values()]


def _jump(steps: Sequence[RearStep]) -> Finding:
    step = steps[0]
    role = Role.BIG_JUMP if step.big_jump else Role.JUMP
    size = f"{step.step_pct:.1f} %, limit {step.limit_pct:g} %"
    if step.easier.cog == step.harder.cog:
        return Finding(role, f"Jump in the hub, {step.easier.label} to {step.harder.label}: {size}.")
    rings = ", ".join(sorted({str(s.easier.ring) for s in steps}, key=int))
    text = f"Jump from cog {step.easier.cog} to {step.harder.cog} on {rings}: {size}."
    return Finding(role, text + _mended(step.easier.cog, step.harder.cog))


def _mended(larger: int, smaller: int) -> str:
    """The cog between that makes the larger of both steps least, where there is room for one."""
    between = range(smaller + 1, larger)
    if not between:
        return " No cog fits between."
    best = min(between, key=lambda n: max(larger / n, n / smaller))
    return f" A {best} between makes {percent(larger / best):.1f} and {percent(best / smaller):.1f} %."


def _holes(study: Study) -> list[Finding]:
    against = study.comparison
    holes: tuple[Hole, ...] = against.holes if against else ()
    return [
        Finding(
            Role.LOST,
            f"Hole: {h.gear.label} ({h.gear.development_m:.2f} m) of the baseline has nothing nearer than "
            f"{h.nearest.label}, {h.away_pct:.1f} % away.",
        )
        for h in sorted(holes, key=lambda h: -h.away_pct)
    ]


def _overlaps(study: Study) -> list[Finding]:
    groups = [group for group in study.overlap_groups if len(group) > 1]
    if not groups:
        return []
    named = "; ".join(" = ".join(g.label for g in group) for group in groups[:4])
    more = f" and {len(groups) - 4} more" if len(groups) > 4 else ""
    limit = study.bench.limits.overlap_pct
    return [Finding(Role.OVERLAP, f"Alike within {limit:g} %: {named}{more}.")]


def _rollout(study: Study) -> list[Finding]:
    limit = study.bench.limits.rollout_m
    if limit is None:
        return []
    over = [row.gear for row in study.rows if row.verdict is Verdict.FAIL]
    close = [row.gear for row in study.rows if row.verdict is Verdict.TOO_CLOSE]
    found = []
    if over:
        found.append(
            Finding(Role.PROBLEM, f"Over the race limit of {limit:.2f} m, to be blocked: {_named(over)}.")
        )
    if close:
        text = f"Within 1 % of the race limit of {limit:.2f} m on a nominal wheel: {_named(close)}."
        found.append(
            Finding(Role.CAUTION, f"{text} Measure the rollout on the floor and put it into the setup.")
        )
    if not found:
        found.append(Finding(Role.OK, f"Every gear is inside the race limit of {limit:.2f} m."))
    return found


def findings_lines(study: Study, look: Look) -> list[Line]:
    """The findings set in a column, with a mark in text before each."""
    out: list[Line] = [line(Span("What this means", Role.HEAD))]
    signs = {Role.OK: "ok", Role.GAINED: "+", Role.LOST: "-", Role.PROBLEM: "!", Role.CAUTION: "!"}
    for finding in findings(study):
        sign = signs.get(finding.role, look.glyphs.bullet)
        lines = wrap(f"{sign} {finding.say}", look.width, finding.role, "  ")
        out += [*lines, ()]
    return out[:-1]
