"""Scroll bars of characters that every terminal has, told apart without colour."""

from rich.color import Color
from rich.segment import Segment, Segments
from rich.style import Style
from textual.scrollbar import ScrollBarRender

from cogwright.present.lines import ASCII, SOLID, UNICODE, Glyphs


class UnicodeBar(ScrollBarRender):
    """A thumb on a track; nothing where all is in sight."""

    GLYPHS: Glyphs = UNICODE

    @classmethod
    def render_bar(
        cls,
        size: int = 25,
        virtual_size: float = 50,
        window_size: float = 20,
        position: float = 0,
        thickness: int = 1,  # noqa: ARG003 - one cell is enough
        vertical: bool = True,
        back_color: Color = Color.default(),  # noqa: B008 - as the library has it
        bar_color: Color = Color.default(),  # noqa: B008
    ) -> Segments:
        """See ScrollBarRender: the cells of a bar, with what a press of the mouse on each does."""
        if not 0 < window_size < virtual_size:
            return Segments([Segment(" ", Style(bgcolor=back_color))] * size, new_lines=vertical)
        start, end = thumb(size, virtual_size, window_size, position)
        deeds = ["scroll_up"] * start + ["grab"] * (end - start) + ["scroll_down"] * (size - end)
        ink = Style(color=bar_color, bgcolor=back_color)
        cells = [
            Segment(
                cls.GLYPHS.thumb if deed == "grab" else cls.GLYPHS.track,
                ink + Style(meta={"@mouse.down": deed}),
            )
            for deed in deeds
        ]
        return Segments(cells, new_lines=vertical)


class SolidBar(UnicodeBar):
    """The same in solid blocks."""

    GLYPHS = SOLID


class AsciiBar(UnicodeBar):
    """The same in ASCII."""

    GLYPHS = ASCII


def bar_of(glyphs: Glyphs) -> type[ScrollBarRender]:
    """What draws a bar with these characters."""
    return {ASCII: AsciiBar, SOLID: SolidBar}.get(glyphs, UnicodeBar)


def thumb(size: int, rows: float, room: float, top: float) -> tuple[int, int]:
    """The first cell of the thumb and that after its last, of a bar of `size` cells.

    It touches an end only where the view does.

    >>> thumb(10, 40, 10, 0), thumb(10, 40, 10, 30), thumb(10, 40, 10, 1)
    ((0, 2), (8, 10), (1, 3))
    """
    length = min(max(int(size * room / rows), 1), size)
    free, last = size - length, rows - room
    start = round(free * top / last)
    if free > 1:
        start = free if top >= last else min(max(start, 1 if top > 0 else 0), free - 1)
    return start, start + length
