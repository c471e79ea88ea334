"""The pocket card: a shift order as plain ASCII text, to print, cut out and tape to a stem."""

from collections.abc import Sequence
from itertools import groupby
from typing import Final

from cogwright.core.common.safe_text import cells, pad
from cogwright.core.common.words import count
from cogwright.core.gears.gears import Gear
from cogwright.core.shifting.levers import Move, levers_of
from cogwright.core.shifting.shift_order import ShiftOrder, shift_order_of
from cogwright.core.study import Study
from cogwright.core.worksheet.new_chain import only_with_new_chain, with_new_chain
from cogwright.present.lines import plain, wrap
from cogwright.present.views.shift_words import new_chain_words, pattern_words, shift_words
from cogwright.present.views.shifting import reasons

WIDTH: Final = 44
_ROOM: Final = WIDTH - 4
NO_PRICES: Final = "A card has no prices: no parts bin is used for it."


def card_text(study: Study, used: Sequence[str] = ()) -> str:
    """The card of a bench, 44 columns wide, each line ended; what it was made with over it, to be cut off."""
    of = shift_order_of(with_new_chain(study))
    rule = "+" + "-" * (WIDTH - 2) + "+"
    rows = [rule, *(_boxed(text) for text in _title(study)), rule]
    rows += [_boxed(text) for text in [*_new_chain(study), *_order(of), *_left_out(of)]]
    over = [plain(row) for said in used for row in wrap(said, WIDTH, indent="  ")]
    return "".join(f"{row}\n" for row in [*over, *rows, rule])


def _boxed(text: str) -> str:
    return f"| {pad(text, _ROOM)} |"


def _wrapped(text: str, indent: str = "") -> list[str]:
    return [plain(row) for row in wrap(text, _ROOM, indent=indent)]


def _title(study: Study) -> list[str]:
    of = shift_order_of(with_new_chain(study))
    shifts = f"{count(len(of.moves), 'gear')}, {count(of.double_shifts, 'double shift')}, easiest first"
    said = [*_wrapped(study.bench.name)[:2], shifts if len(of.moves) > 1 else "one gear, nothing to shift"]
    return [*said, *_against(study)]


def _against(study: Study) -> list[str]:
    """What is otherwise than on the bike as it was, for a rider whose hands know that one."""
    against, base = study.comparison, study.baseline
    if against is None or base is None:
        return []
    ends = (("lowest", against.low_change_pct, "easier"), ("highest", against.high_change_pct, "lower"))
    said = [f"{name} {_changed(change, less)}" for name, change, less in ends]
    return [*_wrapped(f"before: {base.name}", "  ")[:2], *_wrapped(", ".join(said))]


def _changed(change_pct: float, less: str) -> str:
    if abs(change_pct) < 0.05:
        return "as before"
    more = {"easier": "harder", "lower": "higher"}[less]
    return f"{abs(change_pct):.1f} % {less if change_pct < 0 else more}"


def _new_chain(study: Study) -> list[str]:
    """Before the order: it has gears that the old chain must not be shifted to."""
    return [row for said in new_chain_words(only_with_new_chain(study)) for row in _wrapped(said, "  ")]


def _order(of: ShiftOrder) -> list[str]:
    """The gears as they are ridden, range by range, and the change to the next one between them."""
    levers, crossings = levers_of(of.setup), [move for _, move in of.crossings]
    rows: list[str] = []
    run: list[Move] = []
    for move in of.moves:
        if move in crossings:
            rows += [*_range(run, of), *_wrapped(f"** {shift_words(move)} **", "   ")]
            run = []
        run.append(move)
    rows += _range(run, of)
    rows += [row for said in pattern_words(of) for row in _wrapped(said)]
    if of.crossings:
        rows.append("Coming down:")
    for before, move in reversed(of.crossings):
        back = shift_words(levers.move(move.gear, before))
        rows += _wrapped(f"from {move.gear.label} {back}", "  ")
    return rows


def _range(run: list[Move], of: ShiftOrder) -> list[str]:
    """Gears that follow each other without a change of range."""
    if of.interleaved is None or run[-1].gear.ring not in of.interleaved.rings:
        return _in_a_row([move.gear for move in run], of)
    return _half_steps(run) if of.interleaved.name == "half-step" else _by_turns(run)


def _half_steps(run: list[Move]) -> list[str]:
    """A line for each cog with the rings that go with it."""
    cogs = groupby(run, lambda move: move.gear.cog)
    return [f"cog {cog}: {' '.join(str(move.gear.ring) for move in moves)}" for cog, moves in cogs]


def _by_turns(run: list[Move]) -> list[str]:
    """A line for each gear with the shift that leads to it."""
    return [
        row
        for at, move in enumerate(run)
        for row in _wrapped(f"{move.gear.label} {shift_words(move) if at else ''}", " " * 6)
    ]


def _in_a_row(run: list[Gear], of: ShiftOrder) -> list[str]:
    """Cogs of one ring, or a hub's gears."""
    first, rear = run[0], of.setup.rear
    hub = "" if first.position is None else f" hub {first.position}" if len(rear.cogs) > 1 else " hub"
    if len(rear.cogs) > 1:
        head, names = f"ring {first.ring}{hub}:", [str(gear.cog) for gear in run]
    else:
        head = f"{first.ring}x{first.cog}{hub}"
        names = [str(gear.position) for gear in run if gear.position is not None]
    return _wrapped(f"{head} {' '.join(names)}", " " * (cells(head) + 1))


def _left_out(of: ShiftOrder) -> list[str]:
    found = reasons(of.left_out)
    return [
        row
        for why, gears in found.items()
        for row in _wrapped(f"Leave out {' '.join(g.label for g in gears)} ({why})", "  ")
    ]
