"""The top of the screen: what is on the bench, against what, and the strip of rings and cogs."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from cogwright.core.common.words import count
from cogwright.core.setup.edits import Where, sprockets
from cogwright.core.study import Study
from cogwright.present.lines import Line, Look, Role, Span, clip, line, spread, width

VIEWS = ("Gears", "Figures", "Fit", "Ride", "Shifting", "Order")
#: The number of the Fit view.
FIT = VIEWS.index("Fit") + 1


#: Cells of the bike's name that are worth showing beside what is looked at.
_NAME: Final = 12


@dataclass(frozen=True, slots=True)
class Cursor:
    """The sprocket that the next key changes."""

    where: Where = "cog"
    teeth: int = 0


@dataclass(frozen=True, slots=True)
class Stand:
    """What the top of the screen says beside the study: names, unsaved work, the cursor, the view.

    `looking` is what is looked at without being on the bench; empty when the bench itself is shown.
    """

    file: str
    unsaved: bool
    baseline: str
    cursor: Cursor
    view: int = 1
    looking: str = ""


def head_lines(study: Study, stand: Stand, look: Look, problems: Sequence[str] = ()) -> list[Line]:
    """Title, rings, cogs, any problem that stands over every view, and the row of views."""
    return [
        _title(study, stand, look),
        _strip(study, "ring", stand.cursor, _against(study, stand, look), look),
        _strip(study, "cog", stand.cursor, _counts(study, look), look),
        *(_problem(text, look) for text in problems),
        _views(stand.view, look),
    ]


def _title(study: Study, stand: Stand, look: Look) -> Line:
    if stand.looking:
        return _looking(study, stand, look)
    unsaved = Span(" * unsaved", Role.CAUTION) if stand.unsaved else Span("")
    left = line(Span(" " + study.bench.name, Role.TITLE))
    wheel = _wheel(study, look)
    room = look.width - width((unsaved,)) - width(wheel) - 1
    return spread(line(clip(left, room), unsaved), wheel, look.width)


def _looking(study: Study, stand: Stand, look: Look) -> Line:
    """What is looked at, in words; the bike's name beside it where there is room for enough of it."""
    looking = line(Span(" looking at: ", Role.CAUTION), Span(stand.looking, Role.TITLE))
    room = look.width - width(looking) - 3
    name = line(clip(line(Span(study.bench.name, Role.DIM)), room), " ") if room >= _NAME else ()
    return spread(looking, name, look.width)


def _wheel(study: Study, look: Look) -> Line:
    if look.width < 72:
        return ()
    size = study.bench.wheel.size or "wheel"
    return line(Span(f" {size}, {study.wheel.m:.3f} m {study.wheel.source} ", Role.DIM))


def _against(study: Study, stand: Stand, look: Look) -> Line:
    """The baseline's name, beside the few rings, where there is room for a long one."""
    if look.width < 40:
        return ()
    name = stand.baseline or "none yet (b sets one)"
    room = max(look.width - 8 - 4 * len(study.bench.crank.rings), 12)
    return clip(line(Span(" baseline: ", Role.DIM), Span(f"{name} ", Role.BASE)), room)


def _counts(study: Study, look: Look) -> Line:
    if look.width < 72:
        return ()
    summary = study.summary
    return line(Span(f" {count(summary.gears, 'gear')}, {summary.distinct} distinct ", Role.DIM))


def _problem(text: str, look: Look) -> Line:
    return clip(line(Span(f" ! {text}", Role.PROBLEM)), look.width)


def _strip(study: Study, where: Where, cursor: Cursor, right: Line, look: Look) -> Line:
    spans = [Span(f" {where}s".ljust(7), Role.KEY if cursor.where == where else Role.DIM)]
    spans += _sprockets(study, where, cursor)
    room = look.width - width(right)
    at = next((i for i, span in enumerate(spans) if span.role is Role.CURSOR), 0)
    while width(tuple(spans)) > room and at > 2:
        del spans[1]
        at -= 1
    return spread(tuple(spans), right, look.width)


def _sprockets(study: Study, where: Where, cursor: Cursor) -> list[Span]:
    """Each sprocket in four cells: [ ] round the chosen one, ( ) round those riveted together."""
    teeth = sprockets(study.bench, where)
    riveted = study.bench.rear.carriers if where == "cog" else ()
    there = [[n for n in carrier if n in teeth] for carrier in riveted]
    firsts = {carrier[0] for carrier in there if carrier}
    lasts = {carrier[-1] for carrier in there if carrier}
    chosen = cursor.teeth if cursor.where == where else None
    spans: list[Span] = []
    for n in teeth:
        before, after = ("[", "]") if n == chosen else ("(" * (n in firsts) or " ", ")" * (n in lasts) or " ")
        spans.append(Span(f"{before}{n}{after}", Role.CURSOR if n == chosen else Role.TEXT))
    return spans


def _views(chosen: int, look: Look) -> Line:
    rule = look.glyphs.rule
    short = look.width < 60
    spans = [Span(rule, Role.RULE)]
    for number, name in enumerate(VIEWS, 1):
        text = f" {number}{'' if short and number != chosen else f' {name}'} "
        text = f"[{text.strip()}]" if number == chosen else text
        spans += [Span(text, Role.SELECTED if number == chosen else Role.DIM)]
    left = clip(tuple(spans), look.width)
    return line(left, Span(rule * (look.width - width(left)), Role.RULE))


def view_at(column: int, chosen: int, look: Look) -> int | None:
    """The number of the view whose name stands at a column of the row of views, for the mouse."""
    edges = [0]
    for span in _views(chosen, look):
        edges.append(edges[-1] + len(span.text))
    for number, (start, end) in enumerate(pairwise(edges[1:]), 1):
        if start <= column < end and number <= len(VIEWS):
            return number
    return None


def sprocket_at(study: Study, where: Where, column: int, cursor: Cursor, look: Look) -> int | None:
    """The teeth of the sprocket at a column of its strip, for the mouse; None beside them."""
    right = () if where == "ring" else _counts(study, look)
    at = 0
    for span in _strip(study, where, cursor, right, look):
        at += len(span.text)
        digits = span.text.strip("[]() ")
        if column < at:
            return int(digits) if digits.isdigit() else None
    return None
