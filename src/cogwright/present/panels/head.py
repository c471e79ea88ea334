"""The top of the screen: what is on the bench, against what, the rings and cogs, the names of the views."""

from collections.abc import Sequence
from typing import Final, NamedTuple

from cogwright.core.common.safe_text import cells, cut_middle
from cogwright.core.common.words import count
from cogwright.core.setup.sizes import Circumference
from cogwright.core.setup.sprockets import Where, sprockets
from cogwright.core.study import Study
from cogwright.present.cursor import Cursor
from cogwright.present.lines import Line, Look, Role, Span, clip, line, opening, spread, width
from cogwright.present.spots import Spot, SpotLine

VIEWS = ("Gears", "Figures", "Fit", "Ride", "Shifting", "Order", "Findings", "Compare", "Rides")
#: The number of the Fit view.
FIT = VIEWS.index("Fit") + 1
#: The number of the Order view.
ORDER = VIEWS.index("Order") + 1
#: The number of the Findings view.
FINDINGS = VIEWS.index("Findings") + 1
#: The number of the Compare view.
COMPARE = VIEWS.index("Compare") + 1
_NO_BASELINE: Final = "none yet (b sets one)"


class Stand(NamedTuple):
    """What the top of the screen says beside the study: names, unsaved work, the cursor, the view.

    `looking` is what is looked at without being on the bench; empty when the bench itself is shown. With
    `unprotected` what is not saved cannot be kept against a crash either. With `picked` the sprocket at the
    cursor is highlighted, and digits are its teeth.
    """

    file: str
    unsaved: bool
    baseline: str
    cursor: Cursor
    view: int = 1
    looking: str = ""
    unprotected: bool = False
    picked: bool = False


def head_lines(study: Study, stand: Stand, look: Look, problems: Sequence[str] = ()) -> list[Line]:
    """Title, rings, cogs, any problem that stands over every view, and the row of views."""
    return [
        title_line(study, stand, look),
        *(strip.line for strip in sprocket_strips(study, stand, look)),
        *problem_lines(problems, look),
        views_line(stand.view, look),
    ]


def title_line(study: Study, stand: Stand, look: Look) -> Line:
    """The setup's name and its wheel, or what is looked at; what is not saved or cannot be kept is said."""
    if stand.looking:
        return _looking(study, stand, look)
    marks = line(
        Span(" * unsaved" if stand.unsaved else "", Role.KEY),
        Span(" ! unprotected" if stand.unprotected else "", Role.PROBLEM),
    )
    name, wheel = study.bench.name, _wheel(study, look)
    room = look.width - width(marks) - 2
    if room - width(wheel) < cells(name) <= room:
        wheel = ()  # a name that fits without it wins
    left = Span(" " + cut_middle(name, room - width(wheel)), Role.TITLE)
    return spread(line(left, marks), wheel, look.width)


def _looking(study: Study, stand: Stand, look: Look) -> Line:
    """What is looked at, in words; the bike's name beside it where there is room for all of it."""
    said = Span(" looking at: ", Role.CAUTION)
    looking = line(said, opening(stand.looking, look.width - len(said.text), Role.TITLE))
    room = look.width - width(looking) - 3
    name = line(Span(study.bench.name, Role.DIM), " ") if cells(study.bench.name) <= room else ()
    return spread(looking, name, look.width)


def _wheel(study: Study, look: Look) -> Line:
    if look.width < 72:
        return ()
    size = study.bench.wheel.size or "wheel"
    return line(Span(f" {size}, {study.wheel.m:.3f} m {wheel_words(study.wheel)} ", Role.DIM))


def wheel_words(wheel: Circumference) -> str:
    """How the circumference is known."""
    return "by tyre size" if wheel.source == "nominal" else wheel.source


def _against(study: Study, stand: Stand, look: Look) -> Line:
    """The baseline's name, beside the few rings, where there is room for a long one."""
    if look.width < 40:
        return ()
    room = max(look.width - 8 - 4 * len(study.bench.crank.rings), 12)
    said = " baseline: "
    room -= len(said) + 1
    none = _NO_BASELINE if cells(_NO_BASELINE) <= room else "none yet"
    return line(Span(said, Role.DIM), Span(cut_middle(stand.baseline or none, room), Role.BASE), " ")


def _counts(study: Study, look: Look) -> Line:
    if look.width < 72:
        return ()
    summary = study.summary
    return line(Span(f" {count(summary.gears, 'gear')}, {summary.distinct} distinct ", Role.DIM))


def problem_lines(problems: Sequence[str], look: Look) -> list[Line]:
    """What can hurt someone, a line each."""
    return [clip(line(" ", Span(f"! {text}", Role.PROBLEM)), look.width) for text in problems]


def sprocket_strips(study: Study, stand: Stand, look: Look) -> tuple[SpotLine, SpotLine]:
    """The rings with the baseline's name beside them, the cogs with how many gears they make: a spot each."""
    return (
        _strip(study, "ring", stand, _against(study, stand, look), look),
        _strip(study, "cog", stand, _counts(study, look), look),
    )


def _strip(study: Study, where: Where, stand: Stand, right: Line, look: Look) -> SpotLine:
    head = Span(f" {where}s".ljust(7), Role.KEY if stand.cursor.where == where else Role.DIM)
    shown = _in_room(_sprockets(study, where, stand), look.width - width(right) - len(head.text))
    whole = spread(line(head, *(span for _, span in shown)), right, look.width)
    spots, at = list[Spot](), len(head.text)
    for teeth, span in shown:
        spots += [Spot(at, at + len(span.text), Cursor(where, teeth))] if teeth else []
        at += len(span.text)
    return SpotLine(whole, tuple(spots))


def _in_room(shown: list[tuple[int, Span]], room: int) -> list[tuple[int, Span]]:
    """Where there is no room for all, both ends stay and those that are farthest from the chosen one go."""
    at = next((i for i, (_, span) in enumerate(shown) if span.role is not Role.TEXT), 0)
    kept = list(range(len(shown)))
    for i in sorted(range(1, len(shown) - 1), key=lambda i: -abs(i - at)):
        if width(tuple(span for _, span in _with_gaps(shown, kept))) <= room:
            break
        kept = [one for one in kept if one in (at, 0) or one != i]
    return _with_gaps(shown, kept)


def _with_gaps(shown: list[tuple[int, Span]], kept: list[int]) -> list[tuple[int, Span]]:
    """Those that are kept; two dots, which are no sprocket, where some are left out."""
    found: list[tuple[int, Span]] = []
    for before, i in zip([-1, *kept], kept, strict=False):
        found += [(0, Span("..", Role.DIM))] if i != before + 1 else []
        found.append(shown[i])
    return found


def _sprockets(study: Study, where: Where, stand: Stand) -> list[tuple[int, Span]]:
    """Each with its teeth, in four cells: [ ] round the chosen one, < > once picked, ( ) riveted."""
    teeth = sprockets(study.bench, where)
    riveted = study.bench.rear.carriers if where == "cog" else ()
    there = [[n for n in carrier if n in teeth] for carrier in riveted]
    firsts = {carrier[0] for carrier in there if carrier}
    lasts = {carrier[-1] for carrier in there if carrier}
    chosen = stand.cursor.teeth if stand.cursor.where == where else None
    marks, role = (("<", ">"), Role.CURSOR) if stand.picked else (("[", "]"), Role.KEY)
    shown = []
    for n in teeth:
        before, after = marks if n == chosen else ("(" * (n in firsts) or " ", ")" * (n in lasts) or " ")
        shown.append((n, Span(f"{before}{n}{after}", role if n == chosen else Role.TEXT)))
    return shown


#: To how many letters the names of views are cut where there is no room for more; the chosen one never is.
_LETTERS: Final = (99, 7, 6, 5, 4, 3, 0)


def view_labels(chosen: int, look: Look, digits: bool = True) -> list[str]:
    """What stands for each view: its number, what there is room for of its name, [ ] round the chosen one.

    While `digits` are no views the numbers are not shown.

    >>> view_labels(2, Look(80))[:4], view_labels(2, Look(40))[:3]
    (['1 Gears', '[2 Figures]', '3 Fit', ' 4 Ride'], [' 1 ', '[2 Figures]', ' 3 '])
    """
    found: list[str] = []
    for letters in _LETTERS:
        found = [_label(number, name, chosen, letters) for number, name in enumerate(VIEWS, 1)]
        found = found if _fit(found, look) or letters < _LETTERS[0] else _closer(found)
        if _fit(found, look):
            break
    return found if digits else [text.replace(str(at), " ") for at, text in enumerate(found, 1)]


def _fit(labels: Sequence[str], look: Look) -> bool:
    return sum(map(len, labels)) < look.width


def _closer(labels: Sequence[str]) -> list[str]:
    """The same with one cell between two, which the [ or ] of the chosen one takes."""
    tight = [text.rstrip() for text in labels]
    before = ("]", *(text[-1] for text in tight))
    return [
        text.removeprefix(" ") if last == "]" else text for text, last in zip(tight, before, strict=False)
    ]


def _label(number: int, name: str, chosen: int, letters: int) -> str:
    return f"[{number} {name}]" if number == chosen else f" {f'{number} {name[:letters]}'.strip()} "


def views_line(chosen: int, look: Look) -> Line:
    """The row of views as a line."""
    rule = look.glyphs.rule
    spans = [Span(rule, Role.RULE)]
    for number, text in enumerate(view_labels(chosen, look), 1):
        spans.append(Span(text, Role.SELECTED if number == chosen else Role.DIM))
    left = clip(tuple(spans), look.width)
    return line(left, Span(rule * (look.width - width(left)), Role.RULE))
