"""What the shapes and colours of a drawing mean, below its rows."""

from collections.abc import Callable, Sequence
from typing import Final

from cogwright.core.study import Study
from cogwright.present.chart_style import BaseMode, ChartKind, ChartStyle, step_words
from cogwright.present.lines import Role
from cogwright.present.picture.elements import Box, Drawing
from cogwright.present.picture.places import BAR_HIGH, KEY, MARGIN, OLD_HIGH, RowCounts
from cogwright.present.views.gears_chart import RING_ROLES

#: The width of a shape, from it to its words, and from them to the next shape.
_SIGN, _GAP, _APART = 22.0, 6.0, 18.0
#: About what a character takes.
_LETTER: Final = 7.2
#: A shape in a box, and what it means.
Sample = tuple[Callable[[Drawing, Box], None], str]


def draw_key(drawing: Drawing, study: Study, style: ChartStyle, rows: RowCounts) -> None:
    """A line of shapes with their meanings, and one of marks."""
    y = rows.bottom + KEY
    draw_entries(drawing, shapes(study, style), (MARGIN, y))
    draw_entries(drawing, _marks(study), (MARGIN, y + KEY))


def draw_entries(drawing: Drawing, entries: Sequence[Sample], at: tuple[float, float]) -> None:
    """Shapes with their words, side by side on a base line."""
    x, y = at
    for entry in entries:
        shape, words = entry
        shape(drawing, Box(x, y - BAR_HIGH + 2, _SIGN, BAR_HIGH))
        drawing.text((x + _SIGN + _GAP, y), words, Role.DIM, size=12)
        x += key_width([entry]) + _APART


def key_width(entries: Sequence[Sample]) -> float:
    """About how much entries side by side take."""
    words = sum(len(text) for _, text in entries)
    return (_SIGN + _GAP) * len(entries) + _LETTER * words + _APART * (len(entries) - 1)


def shapes(study: Study, style: ChartStyle) -> list[Sample]:
    """What the shapes of a chart in that style mean."""
    rings = study.bench.crank.rings
    now = [(_filled(role), f"ring {ring}" if len(rings) > 1 else "now") for ring, role in _rings(rings)]
    if study.baseline is None or style.baseline is BaseMode.BENCH:
        return now
    old: list[Sample] = [(_rail, "lowest and highest gear before")]
    if style.drawing is ChartKind.BARS and style.baseline is BaseMode.ROW:
        old.insert(0, (_thin, "what stood there before"))
    lost = study.comparison is not None and (study.comparison.lost_low or study.comparison.lost_high)
    return [*now, *old, *([(_hatched, "lost")] if lost else [])]


def _rings(rings: tuple[int, ...]) -> list[tuple[int, Role]]:
    return [(ring, RING_ROLES[at % len(RING_ROLES)]) for at, ring in enumerate(rings)]


def _marks(study: Study) -> list[Sample]:
    return list(zip((_wide, _jump), step_words(study.bench.limits.jump_pct), strict=True))


def _filled(role: Role) -> Callable[[Drawing, Box], None]:
    return lambda drawing, box: drawing.rect(box, role)


def _thin(drawing: Drawing, box: Box) -> None:
    drawing.rect(Box(box.x, box.y + 4, box.width, OLD_HIGH), Role.BEFORE)


def _rail(drawing: Drawing, box: Box) -> None:
    x = box.x + box.width / 2
    drawing.line((x, box.y - 2), (x, box.y + box.height + 2), Role.BASE, dashed=True)


def _hatched(drawing: Drawing, box: Box) -> None:
    drawing.hatched(box, Role.LOST)


def _wide(drawing: Drawing, box: Box) -> None:
    _triangle(drawing, box.x + box.width - 4, box.y + box.height - 2, Role.WIDE, filled=False)


def _jump(drawing: Drawing, box: Box) -> None:
    for back in (4, 14):
        _triangle(drawing, box.x + box.width - back, box.y + box.height - 2, Role.JUMP, filled=True)


def _triangle(drawing: Drawing, x: float, y: float, role: Role, filled: bool) -> None:
    drawing.polygon(((x - 4, y), (x + 4, y), (x, y - 8)), role, filled)
