"""What the study finds, in words: what is lost, what rides badly, and what to do about it."""

from collections.abc import Sequence
from typing import NamedTuple

from cogwright.core.chain.left_out import UNREACHABLE
from cogwright.core.common.units import percent
from cogwright.core.common.words import few, listed
from cogwright.core.fit.check import Status
from cogwright.core.gears.against_baseline import Comparison, Hole
from cogwright.core.gears.gears import Gear
from cogwright.core.gears.steps import RearStep
from cogwright.core.study import Study
from cogwright.present.lines import Line, Look, Page, Role, Span, line, wrap
from cogwright.present.panels.before_now import click_words
from cogwright.present.panels.head import FIT
from cogwright.present.verdicts import gears_verdict, verdict_line


class Finding(NamedTuple):
    """One thing worth saying, and what it means."""

    role: Role
    say: str


def findings(study: Study, fit: bool = False) -> tuple[Finding, ...]:
    """Everything worth saying of the gears, the most important first; with `fit` of the fit as well."""
    wrong = _fit(study, Status.PROBLEM, Role.PROBLEM) if fit else []
    doubtful = [*_fit(study, Status.CAUTION, Role.CAUTION), *_unchecked(study)] if fit else []
    rides_badly = (*_jumps(study), *_holes(study))
    return (
        *_rollout(study),
        *_range(study),
        *wrong,
        *rides_badly,
        *doubtful,
        *_wide(study),
        *_overlaps(study),
    )


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
        gone = _gone(against.lost_low, study.felt.lost_low if study.felt else ())
        return Finding(Role.LOST, f"Lowest gear {change:.1f} % harder: {text}.{gone}")
    if study.left_out.get(study.gears[0]) == UNREACHABLE:
        return Finding(
            Role.CAUTION, f"Lowest gear {-change:.1f} % easier, but the chain is too short for it: {text}."
        )
    return Finding(Role.GAINED, f"Lowest gear {-change:.1f} % easier: {text}.")


def _high(study: Study, against: Comparison) -> Finding:
    change, text = against.high_change_pct, _was(study.gears[-1], study.base_gears[-1])
    if abs(change) < 0.05:
        return Finding(Role.OK, f"Highest gear as before: {text}.")
    if change < 0:
        gone = _gone(against.lost_high, study.felt.lost_high if study.felt else ())
        return Finding(Role.LOST, f"Highest gear {-change:.1f} % lower: {text}.{gone}")
    return Finding(Role.GAINED, f"Highest gear {change:.1f} % higher: {text}.")


def _gone(gears: Sequence[Gear], felt: Sequence[Gear]) -> str:
    """What is lost at an end, as a rider feels it."""
    if felt:
        return f" Lost: {_named(felt)}."
    return f" Nobody misses {_named(gears)}: left out before too." if gears else " Too little to feel."


def _jumps(study: Study) -> list[Finding]:
    """One finding a pair of cogs that stands out: rings share their steps."""
    worst = sorted((s for s in study.rear_steps if s.stands_out), key=lambda s: -s.step_pct)
    seen: dict[tuple[int, int, float], list[RearStep]] = {}
    for step in worst:
        seen.setdefault((step.easier.cog, step.harder.cog, round(step.step_pct, 6)), []).append(step)
    return [_jump(steps) for steps in seen.values()]


def _wide(study: Study) -> list[Finding]:
    """The steps over the limit that do not stand out, in one finding."""
    wide = [step for step in study.rear_steps if step.jump and not step.stands_out]
    if not wide:
        return []
    places = dict.fromkeys(click_words(step) for step in sorted(wide, key=lambda s: -s.step_pct))
    limit = f"over {wide[0].limit_pct:g} %"
    return [
        Finding(Role.WIDE, f"Wide ({limit}), but in keeping with the steps around: {few(list(places), 6)}.")
    ]


def _jump(steps: Sequence[RearStep]) -> Finding:
    step = steps[0]
    size = f"{step.step_pct:.1f} %, limit {step.limit_pct:g} %"
    if step.easier.cog == step.harder.cog:
        return Finding(Role.JUMP, f"Jump in the hub, {step.easier.label} to {step.harder.label}: {size}.")
    rings = sorted({s.easier.ring for s in steps})
    on = f"ring{'s' if len(rings) > 1 else ''} {listed(rings)}"
    text = f"Jump from cog {step.easier.cog} to {step.harder.cog} on {on}: {size}."
    return Finding(Role.JUMP, text + _mended(step.easier.cog, step.harder.cog))


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
            f"No near gear to {h.gear.label} ({h.gear.development_m:.2f} m) of the baseline: the nearest, "
            f"{h.nearest.label}, is {h.away_pct:.1f} % away.",
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
    return [Finding(Role.OVERLAP, f"Overlapping (within {limit:g} %): {named}{more}.")]


def _rollout(study: Study) -> list[Finding]:
    found = study.scrutiny
    if found is None:
        return []
    limit = f"the race limit of {found.limit_m:.2f} m"
    said = []
    if found.over:
        said.append(Finding(Role.PROBLEM, f"Over {limit}, to be blocked: {_named(found.over)}."))
    if found.close:
        text = f"Within 1 % of {limit} by tyre size alone, too close to call: {_named(found.close)}."
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
    text = f"Not checked: {', '.join(names)} (facts missing, see {FIT} Fit)."
    return [Finding(Role.UNKNOWN, text)] if names else []


def findings_page(study: Study, look: Look) -> Page:
    """The Findings view: the verdict, then each finding, those of the fit among them."""
    rows = [line(" ", row) for row in findings_lines(study, look.narrower(2), fit=True)]
    return Page((verdict_line(gears_verdict(study), look), rows[0]), tuple(rows[1:]))


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
