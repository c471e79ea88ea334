"""The chart for a rider's page, to be read on a telephone and printed beside the words: narrow, in km/h."""

from dataclasses import replace
from typing import Final

from cogwright.core.gears.gears import speed_kmh
from cogwright.core.study import Study
from cogwright.present.chart_style import AxisUnit, ChartStyle
from cogwright.present.lines import Role
from cogwright.present.palette import LIGHT
from cogwright.present.picture.elements import Box, Drawing
from cogwright.present.picture.figures import gear_name
from cogwright.present.picture.key import Sample, draw_entries, key_width, shapes
from cogwright.present.picture.strokes import draw_bar
from cogwright.present.scale import Scale, ticks
from cogwright.present.views.gears_axis import axis_scale, per_metre
from cogwright.present.views.gears_chart import ROLES
from cogwright.present.views.gears_rows import ChartRow, chart_rows

#: A telephone shows it about as it is drawn: its letters are then of the size of the page's.
WIDTH: Final = 360.0
_LEFT: Final = 2.0
#: The right ends of bars and speeds; what is said of a gear stands behind. A name takes so much a letter.
_END, _SPEED, _NOTE, _LETTER = 274.0, 312.0, 320.0, 8.0
#: Base lines of title, unit and axis; where the rows begin; of more gears than `_MANY` each is lower.
_TITLE, _UNIT, _AXIS, _TOP = 16.0, 34.0, 54.0, 60.0
_MANY, _HIGH, _LOW = 16, 18.0, 14.0
_KEY: Final = 18.0
#: What a text of the axis takes beside the next one.
_DIGIT: Final = 8.0
_STYLE: Final = ChartStyle(axis=AxisUnit.SPEED)
_PAPER: Final = replace(LIGHT, ground="#ffffff")


def small_picture(study: Study) -> str:
    """A bar for each gear over its speed, what stood there before below it, as the text of an SVG file.

    >>> from cogwright.core.setup.model import Crank, Rear, Setup, Wheel
    >>> from cogwright.core.study import study
    >>> crank, rear = Crank(rings=(38,)), Rear(cogs=(11, 13, 15))
    >>> small_picture(study(Setup(name="a", wheel=Wheel(size="28-622"), crank=crank, rear=rear)))[:4]
    '<svg'
    """
    entries = chart_rows(study, _STYLE)
    begin = _LEFT + _LETTER * (1 + max(len(gear_name(entry.gear)) for entry in entries))
    scale = axis_scale(study, _STYLE, int(_END - begin))
    high = _HIGH if len(entries) <= _MANY else _LOW
    bottom = _TOP + high * len(entries)
    key = _key_rows(study)
    size = (WIDTH, bottom + _KEY * len(key) + _KEY / 2)
    drawing = Drawing(size, _PAPER, "Your gears before and now")
    _draw_heads(drawing, study)
    _draw_axis(drawing, study, scale, (begin, bottom))
    for at, entry in enumerate(entries):
        _draw_row(drawing, entry, study, scale, Box(begin, _TOP + high * at, _END - begin, high))
    for at, row in enumerate(key, 1):
        draw_entries(drawing, row, (_LEFT, bottom + _KEY * at))
    return str(drawing)


def _draw_heads(drawing: Drawing, study: Study) -> None:
    rpm = study.bench.rider.cadence_rpm[1]
    drawing.text((_LEFT, _TITLE), "Your gears before and now", Role.TITLE, size=14, bold=True)
    said = f"Speed at {rpm:g} turns of the pedals a minute, easiest gear first"
    drawing.text((_LEFT, _UNIT), said, Role.DIM, size=12)
    drawing.text((_SPEED, _AXIS), "km/h", Role.HEAD, anchor="end", size=12)


def _draw_axis(drawing: Drawing, study: Study, scale: Scale, ends: tuple[float, float]) -> None:
    """Round speeds over the bars, a line down from each; dashed ones at the old ends."""
    begin, bottom = ends
    for tick in ticks(scale.of_cells(int(scale.cells / _DIGIT)), per_metre(study, _STYLE)):
        x = begin + scale.at(tick.development_m)
        drawing.text((x, _AXIS), tick.text, Role.HEAD, anchor="middle", size=12)
        drawing.line((x, _TOP), (x, bottom), Role.GRID)
    for gear in (*study.base_gears[:1], *study.base_gears[-1:]):
        x = begin + scale.at(gear.development_m)
        drawing.line((x, _TOP), (x, bottom), Role.BASE, dashed=True)


def _draw_row(drawing: Drawing, entry: ChartRow, study: Study, scale: Scale, room: Box) -> None:
    """The gear's name, its bars, its speed, and whether it is one that is lost."""
    y, role = room.y + room.height * 0.7, ROLES[entry.kind]
    draw_bar(drawing, entry, study, scale, room)
    drawing.text((_LEFT, y), gear_name(entry.gear), role, size=12)
    speed = speed_kmh(entry.gear.development_m, study.bench.rider.cadence_rpm[1])
    drawing.text((_SPEED, y), f"{speed:.1f}", role, anchor="end", size=12)
    if entry.kind != "bench":
        lost = entry.kind == "lost" and entry.felt
        drawing.text((_NOTE, y), "lost" if lost else "gone", role, size=12)


def _key_rows(study: Study) -> list[list[Sample]]:
    """What the shapes mean, in as many lines as they take."""
    rows: list[list[Sample]] = [[]]
    for entry in shapes(study, _STYLE):
        if rows[-1] and key_width([*rows[-1], entry]) > WIDTH - _LEFT:
            rows.append([])
        rows[-1].append(entry)
    return rows
