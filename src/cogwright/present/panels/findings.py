"""What the study finds, in words: what is lost, what rides badly, and what to do about it."""

from collections.abc import Sequence
from dataclasses import dataclass

from cogwright.core.common.units import percent
from cogwright.core.common.words import few, listed
from cogwright.core.fit.check import Status
from cogwright.core.gears.against_baseline import Comparison, Hole
from cogwright.core.gears.gears import Gear
from cogwright.core.gears.steps import RearStep
from cogwright.core.study import Study
from cogwright.present.lines import Line, Look, Role, Span, line, wrap
from cogwright.present.panels.head import FIT


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing worth saying, and what it means."""

    role: Role
    say: str


def findings(study: Study, fit: bool = False) -> tuple[Finding, ...]:
    """Everything worth saying of the gears, the most important first; with `fit` of the fit as well."""
    wrong = _fit(study, Status.PROBLEM, Role.PROBLEM) if fit else []
    doubtful = [*_fit(study, Status.CAUTION, Role.CAUTION), *_unchecked(study)] if fit else []
    rides_badly = (*_jumps(study), *_holes(study))
    return (*_rollout(study), *_range(study), *wrong, *rides_badly, *doubtful, *_overlaps(study))


def _named(gears: Sequence[Gear]) -> str:
    return few([gear.label for gear in gears], 4)


def _range(study: Study) -> list[Finding]:
    against = study.comparison
    low, high = study.gears[0], study.gears[-1]
    if against is None:
        text = f"Lowest {low.label}, {low.development_m:.2f} m; highest {high.label}, "
        return [Finding(Role.TEXT, f"{text}{high.development_m:.2f} m.")]
    return [_low(study, against), _high(study, against)]


def _was(now: Gear, before: Gear) -> str:
    """A gear, and the one in its place before, unless they are the same."""
    said, had = (f"{gear.development_m:.2f} m ({gear.label})" for gear in (now, before))
    return said if said == had else f"{said}, was {had}"


def _low(study: Study, against: Comparison) -> Finding:
    change, text = against.low_change_pct, _was(study.gears[0], study.base_gears[0])
    if abs(change) < 0.05:
        return Finding(Role.OK, f"Lowest gear as before: {text}.")
    if change > 0:
        gone = f" Lost: {_named(against.lost_low)}." if against.lost_low else " Too little to feel."
        return Finding(Role.LOST, f"Lowest gear {change:.1f} % harder: {text}.{gone}")
    return Finding(Role.GAINED, f"Lowest gear {-change:.1f} % easier: {text}.")


def _high(study: Study, against: Comparison) -> Finding:
    change, text = against.high_change_pct, _was(study.gears[-1], study.base_gears[-1])
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
    rings = sorted({s.easier.ring for s in steps})
    on = f"ring{'s' if len(rings) > 1 else ''} {listed(rings)}"
    text = f"Jump from cog {step.easier.cog} to {step.harder.cog} on {on}: {size}."
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
    found = study.scrutiny
    if found is None:
        return []
    limit = f"the race limit of {found.limit_m:.2f} m"
    said = []
    if found.over:
        said.append(Finding(Role.PROBLEM, f"Over {limit}, to be blocked: {_named(found.over)}."))
    if found.close:
        text = f"Within 1 % of {limit} on a nominal wheel, too close to call: {_named(found.close)}."
        said.append(Finding(Role.CAUTION, f"{text} Measure the rollout on the floor, put it into the setup."))
    if not said:
        return [Finding(Role.OK, f"Every gear is inside {limit}.")]
    top = found.largest_legal
    legal = f"Largest legal gear: {top.label}, {top.development_m:.2f} m." if top else "No gear is legal."
    return [*said, Finding(Role.TEXT, legal)]


def _fit(study: Study, status: Status, role: Role) -> list[Finding]:
    """Fit checks that came out so, in their own words; the race limit is among the findings already."""
    found = (check for check in study.fit if check.status is status and check.check != "rollout")
    return [Finding(role, f"{check.check.capitalize()}: {check.say}.") for check in found]


def _unchecked(study: Study) -> list[Finding]:
    names = [check.check for check in study.fit if check.status is Status.UNKNOWN]
    text = f"Not checked, for want of facts: {', '.join(names)}. View {FIT} says which."
    return [Finding(Role.UNKNOWN, text)] if names else []


def findings_lines(study: Study, look: Look, fit: bool = False) -> list[Line]:
    """The findings set in a column, with a mark in text before each; with `fit` those of the fit too."""
    out: list[Line] = [line(Span("What this means", Role.HEAD))]
    signs = {
        Role.OK: "ok", Role.GAINED: "+", Role.LOST: "-",
        Role.PROBLEM: "!", Role.CAUTION: "!", Role.UNKNOWN: "?",
    }  # fmt: skip
    for finding in findings(study, fit):
        sign = signs.get(finding.role, look.glyphs.bullet)
        lines = wrap(f"{sign} {finding.say}", look.width, finding.role, "  ")
        out += [*lines, ()]
    return out[:-1]
