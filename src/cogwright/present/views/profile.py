"""The height profile of a course in the terminal, with what bench and baseline do along it."""

from collections.abc import Sequence
from itertools import groupby
from typing import Final

from cogwright.core.riding.course import Course, interpolate
from cogwright.core.riding.course_ride import CourseRide, OnCourse
from cogwright.core.riding.legs import Legs
from cogwright.present.lines import ASCII, Glyphs, Line, Look, Role, Span, clip, line

#: Dots of a braille cell, left and right column, from the bottom up (Unicode, block Braille Patterns).
_DOTS: Final = ((0x40, 0x04, 0x02, 0x01), (0x80, 0x20, 0x10, 0x08))
_BRAILLE: Final = 0x2800
_LABEL: Final = 9
#: What is marked along the road, the gravest last: it stands where several share a column.
MARKS: Final = {Legs.SPIN: "s", Legs.GRIND: "g", Legs.STAND: "t", Legs.WALK: "w"}
_ROLES: Final = {"s": Role.CAUTION, "g": Role.CAUTION, "t": Role.CAUTION, "w": Role.PROBLEM, " ": Role.BENCH}


def profile_lines(on: OnCourse, look: Look, rows: int = 7) -> list[Line]:
    """The profile, a scale in km, and a line each for bench and baseline: what they do where (`MARKS`)."""
    width = max(look.width - _LABEL - 1, 8)
    marks = _marks(on.bench, width)
    out = [_labelled(label, cells, marks) for label, cells in _drawn(on.course, width, rows, look.glyphs)]
    out.append(line(Span("km".rjust(_LABEL - 1) + " ", Role.DIM), Span(_scale(on.course, width), Role.DIM)))
    out.append(_mark_line("bench", marks))
    if on.baseline is not None:
        out.append(_mark_line("baseline", _marks(on.baseline, width)))
    return [clip(row, look.width) for row in out]


def _labelled(label: str, cells: str, marks: str) -> Line:
    parts = [
        Span("".join(cell for cell, _ in run), _ROLES[mark])
        for mark, run in groupby(zip(cells, marks, strict=True), key=lambda pair: pair[1])
    ]
    return line(Span(label.rjust(_LABEL - 1) + " ", Role.DIM), *parts)


def _mark_line(name: str, marks: str) -> Line:
    role = Role.BENCH if name == "bench" else Role.BASE
    parts = [Span("".join(run), role if mark == " " else _ROLES[mark]) for mark, run in groupby(marks)]
    return line(Span(name.rjust(_LABEL - 1) + " ", role), *parts)


def _drawn(course: Course, width: int, rows: int, glyphs: Glyphs) -> list[tuple[str, str]]:
    """Label and cells of each row, the top one first."""
    across, down = (2, 4) if glyphs is not ASCII else (1, 2)
    heights = _columns(course, width * across)
    low, high = min(course.heights_m), max(course.heights_m)
    span = max(high - low, 1.0)
    # The lowest point still shows a dot, so that the road never vanishes.
    dots = [1 + round((h - low) / span * (rows * down - 1)) for h in heights]
    draw = _braille if across == 2 else _ascii
    cells = [draw(dots, row * down, glyphs) for row in reversed(range(rows))]
    labels = ["" for _ in range(rows)]
    labels[0], labels[-1] = f"{high:.0f} m", f"{low:.0f} m"
    return list(zip(labels, cells, strict=True))


def _columns(course: Course, count: int) -> list[float]:
    at = [course.length_m * (i + 0.5) / count for i in range(count)]
    return interpolate(course.starts_m, course.heights_m, at)


def _braille(dots: Sequence[int], base: int, _glyphs: Glyphs) -> str:
    cells = []
    for left, right in zip(dots[::2], dots[1::2], strict=True):
        bits = 0
        for column, height in zip(_DOTS, (left, right), strict=True):
            bits |= sum(column[: max(0, min(4, height - base))])
        cells.append(chr(_BRAILLE + bits) if bits else " ")
    return "".join(cells)


def _ascii(dots: Sequence[int], base: int, glyphs: Glyphs) -> str:
    marks = (" ", glyphs.base_bar_half, glyphs.base_bar)
    return "".join(marks[max(0, min(2, height - base))] for height in dots)


def _marks(ride: CourseRide, width: int) -> str:
    """One character a column: what the rider does for any of it."""
    out = [" "] * width
    for legs, mark in MARKS.items():
        for stretch in ride.stretches(legs):
            first = int(stretch.start_m / ride.course.length_m * width)
            last = int(stretch.end_m / ride.course.length_m * width - 1e-9)
            out[first : last + 1] = mark * (last + 1 - first)
    return "".join(out[:width])


def _scale(course: Course, width: int) -> str:
    """Kilometres below the places where they are."""
    km = course.length_m / 1000.0
    step = next(s for s in _STEPS if km / s * 6 <= width)
    text = ""
    for i in range(int(km / step) + 1):
        at = int(i * step / km * width)
        label = f"{i * step:g}"
        if at + len(label) <= width and at >= len(text):
            text = text.ljust(at) + label
    return text.ljust(width)


_STEPS: Final = tuple(base * 10.0**power for power in range(-1, 5) for base in (1, 2, 5))
