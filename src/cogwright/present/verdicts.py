"""The verdict of each view in one sentence, which it opens with."""

from collections.abc import Sequence
from typing import Final

from cogwright.core.common.words import count, few, listed
from cogwright.core.fit.check import Status
from cogwright.core.gears.steps import RearStep
from cogwright.core.study import Study
from cogwright.present.lines import Line, Look, Role, Span, clip, opening
from cogwright.present.panels.before_now import click_words, largest_click

#: Changes below this, in %, are none that the figures show.
_NONE_PCT: Final = 0.05


def verdict_line(said: Span, look: Look) -> Line:
    """A verdict as a line of a view, in whole words; what there is no room for stands in the view."""
    return clip((Span(" "), *opening(said.text, look.width - 1, said.role)), look.width)


def gears_verdict(study: Study) -> Span:
    """How the gears ride, and what is lost or gained.

    >>> from cogwright.core.setup.model import Crank, Rear, Setup, Wheel
    >>> from cogwright.core.study import study
    >>> wheel, crank = Wheel(size="28-622"), Crank(rings=(38,))
    >>> bench = Setup(name="a", wheel=wheel, crank=crank, rear=Rear(cogs=(15, 17, 19, 26)))
    >>> gears_verdict(study(bench)).text
    'One jump: 26 to 19 (36.8 %).'
    """
    jumps = _jump_words(study)
    gone, lost = _range_words(study)
    role = Role.LOST if lost else Role.TEXT
    return Span(f"{jumps}{gone}", Role.JUMP if study.summary.standing_out else role)


def _jump_words(study: Study) -> str:
    out = [step for step in study.rear_steps if step.stands_out]
    places = list(dict.fromkeys(map(_place, sorted(out, key=lambda step: -step.step_pct))))
    if places:
        named = listed(places) if len(places) < 3 else few(places, 2)
        return f"{'One jump' if len(out) == 1 else f'{len(out)} jumps'}: {named}."
    worst = largest_click(study.rear_steps)
    return "One gear, no steps." if worst is None else f"No jump; largest step {_place(worst)}."


def _place(step: RearStep) -> str:
    return f"{click_words(step)} ({step.step_pct:.1f} %)"


def _range_words(study: Study) -> tuple[str, bool]:
    """What is lost, else what is gained, and whether anything is lost."""
    felt, against = study.felt, study.comparison
    if felt is None or against is None:
        return "", False
    lost = [gear.label for gear in (*felt.lost_low, *felt.lost_high)]
    if lost:
        return f" Lost: {few(lost, 2)}.", True
    gained = [gear.label for gear in (*felt.gained_low, *felt.gained_high)]
    if gained:
        return f" Gained: {few(gained, 2)}; nothing lost.", False
    same = max(abs(against.low_change_pct), abs(against.high_change_pct)) < _NONE_PCT
    return " Both ends as before." if same else " Nothing lost.", False


def figures_verdict(study: Study) -> Span:
    """How many gears there are, and from where to where they go."""
    of = study.summary
    if of.gears == 1:
        return Span(f"One gear: {of.lowest_m:.2f} m.")
    same = "all distinct" if of.gears == of.distinct else f"{of.distinct} distinct"
    ends = f"{of.lowest_m:.2f} to {of.highest_m:.2f} m, range {of.range_pct:.0f} %"
    return Span(f"{count(of.gears, 'gear')}, {same}: {ends}.")


def fit_verdict(study: Study) -> Span:
    """What is wrong, what to look at, what is not known."""
    by = {status: [check.check for check in study.fit if check.status is status] for status in Status}
    wrong, doubtful, unknown = by[Status.PROBLEM], by[Status.CAUTION], by[Status.UNKNOWN]
    more = f" Caution: {_named(doubtful)}." if doubtful else ""
    if wrong:
        return Span(f"Does not go together: {_named(wrong)}.{more}", Role.PROBLEM)
    if doubtful:
        return Span(f"Goes together with care: {_named(doubtful)}.", Role.CAUTION)
    if not by[Status.OK]:
        return Span("Nothing can be judged yet: the file gives none of the facts.", Role.UNKNOWN)
    if unknown:
        return Span(f"Goes together as far as the file says; not checked: {_named(unknown)}.", Role.UNKNOWN)
    return Span("Goes together.", Role.OK)


def _named(checks: Sequence[str]) -> str:
    return listed(checks) if len(checks) < 4 else few(checks, 3)
