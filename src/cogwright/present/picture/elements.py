"""The few elements of SVG 1.1 that a chart is drawn with: rectangles, lines, polygons, text as text."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal
from xml.etree.ElementTree import Element, SubElement, indent, tostring

from cogwright.core.common.safe_text import clean
from cogwright.present.lines import Role
from cogwright.present.palette import Palette

Anchor = Literal["start", "middle", "end"]
#: Between the strokes of what is hatched.
_HATCH = 6.0
#: Whatever the viewer has: all places are those of a text's start, end or middle.
_FONTS = "system-ui, 'Segoe UI', 'Noto Sans', 'DejaVu Sans', Helvetica, Arial, sans-serif"


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle: its upper left corner and its size, in units of the drawing."""

    x: float
    y: float
    width: float
    height: float


class Drawing:
    """A drawing that elements are added to, in the colours of a palette."""

    def __init__(self, size: tuple[float, float], palette: Palette, title: str) -> None:
        width, height = map(_number, size)
        self.palette = palette
        self._root = Element(
            "svg",
            {
                "xmlns": "http://www.w3.org/2000/svg", "viewBox": f"0 0 {width} {height}",
                "width": width, "height": height, "role": "img", "font-family": _FONTS,
            },
        )  # fmt: skip
        SubElement(self._root, "title").text = clean(title)
        self._add("rect", width=width, height=height, fill=palette.ground)

    def rect(self, box: Box, role: Role) -> None:
        """A filled rectangle; of no width, none."""
        if box.width > 0:
            self._add("rect", **_sides(box), fill=self.palette.colour(role))

    def hatched(self, box: Box, role: Role) -> None:
        """A rectangle of strokes that slant, in a frame: told from a filled one without its colour."""
        self._add("rect", **_sides(box), fill="none", stroke=self.palette.colour(role))
        right, bottom = box.x + box.width, box.y + box.height
        for i in range(1, int((box.width + box.height) / _HATCH) + 1):
            start = box.x - box.height + _HATCH * i  # of a stroke at the lower side, if it were long enough
            low, high = max(start, box.x), min(start + box.height, right)
            if high > low:
                self.line((low, bottom - (low - start)), (high, bottom - (high - start)), role)

    def line(
        self, start: tuple[float, float], end: tuple[float, float], role: Role, dashed: bool = False
    ) -> None:
        """A thin line."""
        (x1, y1), (x2, y2) = start, end
        dashes = {"stroke-dasharray": "4 3"} if dashed else {}
        ends = {"x1": x1, "y1": y1, "x2": x2, "y2": y2}
        self._add("line", **_numbers(ends), stroke=self.palette.colour(role), **dashes)

    def polygon(self, corners: Sequence[tuple[float, float]], role: Role, filled: bool = True) -> None:
        """A polygon, filled or only its outline."""
        colour = self.palette.colour(role)
        points = " ".join(f"{_number(x)},{_number(y)}" for x, y in corners)
        self._add("polygon", points=points, fill=colour if filled else "none", stroke=colour)

    def text(
        self,
        at: tuple[float, float],
        words: str,
        role: Role = Role.TEXT,
        *,
        anchor: Anchor = "start",
        size: float = 13,
        bold: bool = False,
    ) -> None:
        """Words on a base line that starts, ends or has its middle at a place."""
        place = _numbers({"x": at[0], "y": at[1], "font-size": size})
        weight = {"font-weight": "bold"} if bold else {}
        made = self._add("text", **place, fill=self.palette.colour(role), **weight)
        if anchor != "start":
            made.set("text-anchor", anchor)
        made.text = clean(words)

    def __str__(self) -> str:
        """The drawing as a file has it."""
        indent(self._root)
        return tostring(self._root, encoding="unicode") + "\n"

    def _add(self, tag: str, **attributes: str) -> Element:
        return SubElement(self._root, tag, attributes)


def _sides(box: Box) -> dict[str, str]:
    return _numbers({"x": box.x, "y": box.y, "width": box.width, "height": box.height})


def _numbers(of: dict[str, float]) -> dict[str, str]:
    return {name: _number(value) for name, value in of.items()}


def _number(value: float) -> str:
    """A length to a hundredth.

    >>> _number(12.0), _number(1 / 3)
    ('12', '0.33')
    """
    return f"{round(value, 2):g}" if abs(value) < 1e5 else f"{value:.2f}"
