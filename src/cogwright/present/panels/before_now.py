"""Before and now: the change in six figures, in the foot, and in the panel of a wide screen."""

from collections.abc import Sequence
from typing import Final, NamedTuple

from cogwright.core.chain.left_out import UNREACHABLE
from cogwright.core.common.safe_text import cut, pad
from cogwright.core.common.words import few
from cogwright.core.gears.steps import RearStep
from cogwright.core.study import Study
from cogwright.present.lines import Line, Look, Role, Span, line

#: Changes below this, in %, are none that the figures show.
_NONE_PCT: Final = 0.05
AS_BEFORE: Final = "as before"
#: Cells of a figure; of the names and of the words on the left and on the right.
_FIGURE: Final = 6
_NAMES: Final = (10, 9)
_WORDS: Final = (19, 12)
#: Cells of the table in the foot: a blank before each half and its words, and a line between the halves.
WIDTH: Final = sum((6, 4 * _FIGURE, *_NAMES, *_WORDS))


class FigureChange(NamedTuple):
    """A figure before and now, and the change in words."""

    name: str
    before: str
    now: str
    words: str
    role: Role = Role.TEXT


def before_now(study: Study) -> tuple[FigureChange, ...]:
    """Low, high, gears lost, jumps, largest step, range."""
    return (_low(study), _high(study), _lost(study), _jumps(study), _largest(study), _range(study))


def _low(study: Study) -> FigureChange:
    change = study.comparison.low_change_pct if study.comparison else None
    if change is not None and change <= -_NONE_PCT and study.left_out.get(study.gears[0]) == UNREACHABLE:
        words, role = f"{-change:.1f} %, chain short", Role.CAUTION
    else:
        words, role = _ended(change, "easier", "harder", gained=-1)
    return _end(study, "low m", 0, words, role)


def _high(study: Study) -> FigureChange:
    change = study.comparison.high_change_pct if study.comparison else None
    return _end(study, "high m", -1, *_ended(change, "lower", "higher", gained=1))


def _ended(change: float | None, less: str, more: str, gained: int) -> tuple[str, Role]:
    """What an end has become; `gained` is the sign of a change for the better."""
    if change is None:
        return "", Role.TEXT
    if abs(change) < _NONE_PCT:
        return AS_BEFORE, Role.DIM
    role = Role.GAINED if change * gained > 0 else Role.LOST
    return f"{abs(change):.1f} % {less if change < 0 else more}", role


def _end(study: Study, name: str, at: int, words: str, role: Role) -> FigureChange:
    before = f"{study.base_gears[at].development_m:.2f}" if study.baseline else ""
    return FigureChange(name, before, f"{study.gears[at].development_m:.2f}", words, role)


def _lost(study: Study) -> FigureChange:
    felt = study.felt
    if felt is None:
        return FigureChange("gears", "", str(study.summary.gears), f"{study.summary.distinct} distinct")
    gone = [gear.label for gear in (*felt.lost_low, *felt.lost_high)]
    if gone:
        return FigureChange("gears lost", "", str(felt.lost), few(gone, 2 if len(gone) < 3 else 1), Role.LOST)
    gained = f"{felt.gained} gained" if felt.gained else "none"
    return FigureChange("gears lost", "", "0", gained, Role.GAINED if felt.gained else Role.DIM)


def _jumps(study: Study) -> FigureChange:
    old, new = study.base_summary, study.summary
    words = f"{new.jumps} over {study.bench.limits.jump_pct:g} %"
    role = Role.JUMP if new.standing_out else Role.WIDE if new.jumps else Role.DIM
    return FigureChange("jumps", str(old.standing_out) if old else "", str(new.standing_out), words, role)


def _largest(study: Study) -> FigureChange:
    worst = largest_click(study.rear_steps)
    old = largest_click(study.base_steps)
    before = f"{old.step_pct:.1f}" if old else ""
    if worst is None:
        return FigureChange("largest %", before, "", "no clicks", Role.DIM)
    role = Role.JUMP if worst.stands_out else Role.WIDE if worst.jump else Role.TEXT
    return FigureChange("largest %", before, f"{worst.step_pct:.1f}", click_words(worst), role)


def largest_click(steps: Sequence[RearStep]) -> RearStep | None:
    """The largest step of a click, of equal ones the first; None without any."""
    return max(steps, key=lambda step: step.step_pct, default=None)


def click_words(step: RearStep) -> str:
    """Between which sprockets, or gears of the hub, a click is.

    >>> from cogwright.core.gears.gears import Gear
    >>> low, high = Gear(36, 45, 1.0, None, 0.8, 1.76), Gear(36, 36, 1.0, None, 1.0, 2.2)
    >>> click_words(RearStep(low, high, 25.0, 15.0))
    '45 to 36'
    """
    if step.easier.cog == step.harder.cog:
        return f"h{step.easier.position} to h{step.harder.position}"
    return f"{step.easier.cog} to {step.harder.cog}"


def _range(study: Study) -> FigureChange:
    now, old = study.summary.range_pct, study.base_summary
    before = f"{old.range_pct:.0f}" if old else ""
    if old is None:
        words, role = "", Role.TEXT
    else:
        change = (now / old.range_pct - 1.0) * 100.0
        words, role = _ended(change, "less", "more", gained=1)
    return FigureChange("range %", before, f"{now:.0f}", words, role)


def foot_table(study: Study, aside: Span, look: Look) -> list[Line]:
    """The six in three lines of two, under the heads; `aside` stands in the head where there is room."""
    of = before_now(study)
    heads = "before".rjust(_FIGURE) + "now".rjust(_FIGURE) if study.baseline else "now".rjust(2 * _FIGURE)
    middle = _WORDS[0] + 3 + _NAMES[1]
    head = line(
        Span(" " * (1 + _NAMES[0]) + heads + " ", Role.HEAD),
        Span(cut(aside.text, middle), aside.role),
        Span(" " * max(middle - len(aside.text), 0) + heads, Role.HEAD),
    )
    pairs = zip(of[:3], of[3:], strict=True)
    between = Span(f" {look.glyphs.upright} ", Role.RULE)
    return [head, *(line(" ", *_half(a, 0), between, *_half(b, 1)) for a, b in pairs)]


def _half(of: FigureChange, side: int) -> list[Span]:
    figures = of.before.rjust(_FIGURE) + of.now.rjust(_FIGURE)
    return [
        Span(of.name.ljust(_NAMES[side]) + figures, Role.DIM if of.words == AS_BEFORE else Role.TEXT),
        Span(f" {pad(of.words, _WORDS[side])}", of.role),
    ]


def panel_table(study: Study, width: int) -> list[Line]:
    """A line a figure in so many cells; the words beside it where they fit, else below."""
    names = max(_NAMES)
    heads = "before".rjust(_FIGURE) + "now".rjust(_FIGURE) if study.baseline else "now".rjust(2 * _FIGURE)
    rows = [line(Span(" " * names + heads, Role.HEAD))]
    for of in before_now(study):
        figures = Span(of.name.ljust(names) + of.before.rjust(_FIGURE) + of.now.rjust(_FIGURE))
        beside = names + 2 * _FIGURE + 1 + len(of.words) <= width
        rows.append(line(figures, Span(f" {of.words}", of.role)) if beside else line(figures))
        rows += [] if beside else [line(" " * names, Span(of.words, of.role))]
    return rows
