"""The Compare view: candidates side by side, the baseline first; as many columns abreast as there is room."""

from collections.abc import Iterator, Sequence
from typing import Final

from cogwright.core.common.safe_text import cells, cut, pad
from cogwright.core.common.words import listed
from cogwright.core.comparing.columns import SideBySide
from cogwright.core.riding.grades import short_words
from cogwright.present.axis import Axis
from cogwright.present.lines import Line, Look, Page, Role, Span, clip, line, told
from cogwright.present.scale import Scale
from cogwright.present.verdicts import gears_verdict, verdict_line
from cogwright.present.views.compare_rows import MARKED, Row, best_of, marked, parts_tell, rows_of

#: Cells of the labels, and the fewest of a column with the gap before it.
_LABEL: Final = 17
_COLUMN: Final = 14
BEST: Final = "*"
#: The mark of the bench as it stands, where that is no candidate.
NOW: Final = ">"
AS_THEY_STAND: Final = (
    "The fit is that of each bike as its file stands; order and hand-out judge it with its new parts on, as"
    " the next row does."
)
#: Rows that the verdict is made of, and what the best of each is.
_ASKED: Final = {
    "lowest m": "lowest gear",
    "highest m": "highest",
    "largest step": "most even",
    "course, h:min:s": "fastest course",
    "total about": "cheapest",
}
NONE_KEPT: Final = "No candidate is kept yet: C keeps the bench as it stands as one, up to six."


def compare_page(of: SideBySide | None, look: Look, notes: Sequence[str] = (), on: str = "") -> Page:
    """Verdict and strips stay in sight, the figures scroll; `on` is the mark of what is on the bench."""
    if of is None or not of.columns:
        return Page((), tuple(told(NONE_KEPT, look.width, Role.DIM)))
    rows = [row for block in _blocks(of, look) for row in (*block, ())]
    said = [each for text in (*warnings(of), *notes) for each in told(text, look.width, Role.CAUTION)]
    foot = [each for text in _foot(of) for each in told(text, look.width, Role.DIM)]
    return Page(
        (verdict_line(compare_verdict(of), look), *(clip(row, look.width) for row in strips(of, look, on))),
        tuple(clip(row, look.width) for row in (*rows, *said, *foot)),
    )


def compare_verdict(of: SideBySide) -> Span:
    """Which is best at what a rider asks first; of a bench alone how it rides."""
    if len(of.all) == 1:
        return gears_verdict(of.all[0].study)
    marks, rows = [mark for mark, _ in heads(of)], {row.label: row for row in rows_of(of)}
    said = []
    for label, words in _ASKED.items():
        best = best_of(rows[label], of) if label in rows else ()
        named = ", ".join(f"{marks[i]}{_longer(of, i, label)}" for i in sorted(best))
        said += [f"{words}: {named}"] if best else []
    first = "; ".join(said)
    return Span(f"{first[0].upper()}{first[1:]}." if said else "Alike in gears and cost.", Role.TITLE)


def _longer(of: SideBySide, at: int, label: str) -> str:
    """What must be said beside the lowest gear of a bike whose chain is too short for it."""
    return " (with a longer chain)" if of.all[at].promises and label == "lowest m" else ""


def _foot(of: SideBySide) -> list[str]:
    minutes = short_words(of.all[0].setup.rider)
    about = (
        f"{BEST} the best of its row. Steepest grade: held in the lowest gear all day, or {minutes} "
        "standing (short effort). Hills, course, labour "
    )
    promised = ["! only with a longer chain: the one on it is too short for its lowest gear."]
    said = [f"{about}and mass are estimates."]
    said += promised if any(column.promises for column in of.all) else []
    said += [AS_THEY_STAND] if parts_tell(of) else []
    return [*said, *([MARKED] if marked(of) else [])]


def compare_lines(of: SideBySide, look: Look, notes: Sequence[str] = ()) -> list[Line]:
    """The view in one piece."""
    page = compare_page(of, look, notes)
    return [*page.head, (), *page.rows]


def warnings(of: SideBySide) -> list[str]:
    """What keeps columns from being compared as they stand."""
    said = []
    if len(of.currencies) > 1:
        said.append(f"Prices are in {listed(of.currencies)}: sums are not set against each other.")
    if not of.one_rider:
        said.append("The riders differ: each candidate has its own on the road.")
    sizes = dict.fromkeys(column.setup.wheel.size or "as measured" for column in of.all)
    if len(sizes) > 1:
        said.append(f"The wheels differ ({listed(sizes)}): compare metres, not teeth.")
    return said


def heads(of: SideBySide) -> list[tuple[str, str]]:
    """What stands for each column, and its name; the baseline first."""
    base = [("was", of.baseline.setup.name)] if of.baseline else []
    marks = ("now" if mark == NOW else mark for mark in of.marks)
    return [*base, *zip(marks, of.names, strict=True)]


def strips(of: SideBySide, look: Look, on: str = "") -> Iterator[Line]:
    """A bar a column, from its lowest gear to its highest, on one logarithmic axis with values in m."""
    room = min(max(look.width // 3, 12), 34)
    ends = [(column.study.gears[0].development_m, column.study.gears[-1].development_m) for column in of.all]
    scale = Scale.over([m for both in ends for m in both], max(look.width - room - 7, 8))
    axis = Axis.on(scale, look.glyphs, ends[0] if of.baseline else ())
    yield line(Span("m".rjust(room + 5), Role.HEAD), " ", axis.head)
    for (mark, name), column, (low, high) in zip(heads(of), of.all, ends, strict=True):
        role = Role.BASE if column is of.baseline else Role.BENCH
        sign = look.glyphs.bullet if mark == on else " "
        key = Span(f"{sign}{mark:<3} ", Role.BASE if mark == "was" else Role.KEY)
        yield line(key, Span(pad(name, room)), " ", axis.under(axis.bar(low, high, role)))


def _blocks(of: SideBySide, look: Look) -> Iterator[list[Line]]:
    """The table in blocks of as many columns as there is room for; the baseline comes first in each."""
    first = 1 if of.baseline else 0
    most = max((look.width - _LABEL) // _COLUMN - first, 1)
    others = list(range(first, len(of.all)))
    for begin in range(0, len(others), most):
        yield _table(of, [*range(first), *others[begin : begin + most]], look)


def _table(of: SideBySide, shown: Sequence[int], look: Look) -> list[Line]:
    width = min((look.width - _LABEL) // len(shown), _COLUMN + 6)
    names = heads(of)
    top = "".join(pad(names[i][0], width - 2, right=True) + "  " for i in shown)
    out: list[Line] = [(Span(" " * _LABEL + top, Role.HEAD),)]
    return out + [_row(of, row, shown, width) for row in rows_of(of)]


def _row(of: SideBySide, row: Row, shown: Sequence[int], width: int) -> Line:
    best = best_of(row, of)
    parts = [Span(f" {pad(row.label, _LABEL - 2)} ", Role.DIM)]
    for i in shown:
        text = cut(row.show(of.all[i]), width - 2)
        mark = BEST if i in best else " "
        parts += [
            Span(" " * (width - 2 - cells(text))),
            Span(text, Role.GAINED if i in best else _role(text)),
            Span(f"{mark} ", Role.GAINED),
        ]
    return tuple(parts)


def _role(text: str) -> Role:
    if "problem" in text:
        return Role.PROBLEM
    return Role.CAUTION if "caution" in text else Role.DIM if text in {"-", "unknown"} else Role.TEXT
