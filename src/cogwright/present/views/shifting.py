"""The Shifting view: how to shift the bench, gear by gear, and what to leave alone; and the drill."""

from collections.abc import Mapping, Sequence
from typing import Final

from cogwright.core.common.words import count
from cogwright.core.gears.gears import Gear
from cogwright.core.shifting.drill import Answered, Drill
from cogwright.core.shifting.levers import Move
from cogwright.core.shifting.shift_order import ShiftOrder, shift_order_of
from cogwright.core.study import Study
from cogwright.core.worksheet.new_chain import only_with_new_chain, with_new_chain
from cogwright.present.lines import Line, Look, Page, Role, Span, clip, line, told
from cogwright.present.views.shift_words import change_words, new_chain_words, shift_words

_GEAR: Final = 10
#: From this width a shift is said in words.
_WORDY: Final = 60
#: Beside a gear that wants the new chain, as far as there is room.
_NEW_CHAIN: Final = ("  new chain only", "  new chain")


def shifting_page(study: Study, look: Look) -> Page:
    """The order in short stays in sight; the moves, the reasons and the gears left out scroll."""
    of, wanting = shift_order_of(with_new_chain(study)), only_with_new_chain(study)
    head, rows = _summary(of, look), _notes(of, look)
    head += [row for said in new_chain_words(wanting) for row in told(said, look.width, Role.CAUTION)]
    if len(of.moves) > 1:
        head.append(_table_head(look))
        rows = [*_moves(of.moves, look, wanting), (), *rows, *_every(of, look, wanting)]
    return Page(tuple(clip(row, look.width) for row in head), tuple(clip(row, look.width) for row in rows))


def shifting_lines(study: Study, look: Look) -> list[Line]:
    """The Shifting view in one piece."""
    page = shifting_page(study, look)
    return [*page.head, *page.rows]


def _summary(of: ShiftOrder, look: Look) -> list[Line]:
    if len(of.moves) == 1:
        return told(f"One gear, {of.gears[0].label}: nothing to shift.", look.width)
    said = (
        f"{count(len(of.moves), 'gear')} from easiest to hardest, {count(of.double_shifts, 'double shift')}."
    )
    return [row for text in (said, *change_words(of)) for row in told(text, look.width)]


def _table_head(look: Look) -> Line:
    return (
        Span(
            f" {'':>3} {'gear':<{_GEAR}}{'m':>6}{'step %':>9}  {'shift' if look.width >= 48 else ''}",
            Role.HEAD,
        ),
    )


def _moves(moves: Sequence[Move], look: Look, wanting: Sequence[Gear]) -> list[Line]:
    return [_move(move, i, look, move.gear in wanting) for i, move in enumerate(moves)]


def _every(of: ShiftOrder, look: Look, wanting: Sequence[Gear]) -> list[Line]:
    """The order through every distinct gear, where that is another one: for half-step rings above all."""
    if len(of.every) <= len(of.moves):
        return []
    return [(), (Span(" every distinct gear in order", Role.HEAD),), *_moves(of.every, look, wanting)]


def _move(move: Move, i: int, look: Look, wanting: bool) -> Line:
    """A row of the table; `wanting` where the gear wants the new chain."""
    role = Role.CAUTION if wanting else Role.KEY if move.changes_range else Role.TEXT
    step = f"{move.step_pct:+9.1f}" if move.step_pct is not None else " " * 9
    figures = f" {i + 1:>3} {move.gear.label:<{_GEAR}}{move.gear.development_m:6.2f}{step}  "
    what = shift_words(move)
    if move.double:
        what += "  double shift" if len(figures) + len(what) + 14 <= look.width else "  double"
    if len(figures) + len(what) > look.width:
        what = what.replace(" clicks", "").replace(" click", "")
    if look.width < _WORDY:
        what = _terse(move)
    chain = next((way for way in _NEW_CHAIN if len(figures) + len(what) + len(way) <= look.width), "")
    return line(Span(figures, role), Span(what, role), Span(chain if wanting else "", role))


def _terse(move: Move) -> str:
    parts = (("F", move.front), ("R", move.rear_clicks), ("H", move.hub_clicks))
    return " ".join(f"{name}{value:+d}" for name, value in parts if value)


def _notes(of: ShiftOrder, look: Look) -> list[Line]:
    said = []
    if len(of.every) > len(of.moves):
        said.append(
            f"Every distinct gear in order would be {len(of.every)} gears and "
            f"{count(of.double_shifts_every, 'double shift')}: the order above passes over some for ease, "
            "the one below takes them all."
        )
    said += [
        f"Leave out {', '.join(g.label for g in gears)}: {why}."
        for why, gears in reasons(of.left_out).items()
    ]
    if len(of.moves) > 1:
        said.append(f"Coming down is the same backwards. {_ease_off(of)}".strip())
    return [row for text in said for row in told(text, look.width, Role.DIM)]


def _ease_off(of: ShiftOrder) -> str:
    """Common practice, no source."""
    if len(of.setup.crank.rings) > 1:
        return "Ease off the pedals for a front change."
    hub = len(of.setup.rear.hub_ratios) > 1
    return "Ease off the pedals while the hub shifts, as its maker says." if hub else ""


def reasons(left_out: Mapping[Gear, str]) -> dict[str, list[Gear]]:
    """The gears left out by reason, the angles put together."""
    found: dict[str, list[Gear]] = {}
    for gear, why in left_out.items():
        found.setdefault(why.split(",")[0], []).append(gear)
    return found


def drill_page(drill: Drill, look: Look) -> Page:
    """The question, the shifters as they stand, the last answer, the score; no blanks on a low screen."""
    call = line("  ", Span(f"In {drill.gear.label}: next {drill.call}!", Role.TITLE))
    shift = line("  your shift: ", Span(_pressed(drill), Role.KEY))
    answer = _answer(drill.last, look) if drill.last else []
    score = line(f"  {drill.good} of {drill.asked} right, {drill.streak} in a row, best {drill.best}")
    rows: list[Line] = [(), call, (), shift, (), *answer, (), score]
    if len(rows) > look.height:
        rows = [call, shift, score, *answer]
    return Page((), tuple(clip(row, look.width) for row in rows))


def _pressed(drill: Drill) -> str:
    move = Move(drill.gear, drill.front, drill.rear, drill.hub)
    return shift_words(move) if drill.pressed else "none yet"


def _answer(last: Answered, look: Look) -> list[Line]:
    right = shift_words(last.right)
    way = f"{last.start.label} to {last.right.gear.label} is {right}."
    if last.good:
        alike = last.reached is not None and last.reached != last.right.gear
        also = f" {last.reached.label} does as well." if alike and last.reached else ""
        return told(f" {look.glyphs.tick} Right: {way}{also}", look.width, Role.OK)
    led = f"that leads to {last.reached.label}" if last.reached else "that gear is not there, or left out"
    return told(f" {look.glyphs.cross} No, {led}: {way}", look.width, Role.PROBLEM)
