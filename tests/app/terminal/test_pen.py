"""Few bytes, the same look: what the pen writes is played into an emulated terminal and read back."""

import pyte
import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.color import ColorSystem
from rich.style import Style

from cogwright.app.terminal.pen import ATTRIBUTES, PLAIN, Pen
from cogwright.app.theme import DARK, LIGHT, OWN

STYLES = [*DARK.styles.values(), *LIGHT.styles.values(), *OWN.styles.values(), Style(), None]
SYSTEMS = [ColorSystem.TRUECOLOR, ColorSystem.EIGHT_BIT, ColorSystem.STANDARD]
PIECES = st.lists(st.tuples(st.sampled_from(["a", "bc", " "]), st.sampled_from(STYLES)), max_size=12)


def played(text: str) -> list[tuple[object, ...]]:
    """Every cell that an emulated terminal shows: character, colours, weight and so on."""
    screen = pyte.Screen(40, 1)
    pyte.Stream(screen).feed(text)
    return [tuple(screen.buffer[0][x]) for x in range(40)]


def fresh(style: Style | None) -> Style:
    """The style without what rich has remembered of it for another colour system."""
    if style is None:
        return Style()
    weights = {name: getattr(style, name) for name in ATTRIBUTES}
    return Style(color=style.color, bgcolor=style.bgcolor, **weights)


@pytest.mark.parametrize("system", SYSTEMS)
@given(pieces=PIECES)
def test_the_terminal_shows_what_whole_styles_would_show(
    system: ColorSystem, pieces: list[tuple[str, Style | None]]
) -> None:
    pen = Pen(system)
    frugal = "".join(pen.write(text, style) for text, style in pieces) + pen.lift()
    whole = "".join(fresh(style).render(text, color_system=system) for text, style in pieces)
    assert played(frugal) == played(whole)
    assert pen.now == PLAIN


def test_the_same_style_is_not_said_twice() -> None:
    pen = Pen(ColorSystem.TRUECOLOR)
    pen.write("a", Style.parse("bold red on blue"))
    assert pen.write("b", Style.parse("bold red on blue")) == "b"


def test_another_colour_on_the_same_ground_is_one_colour() -> None:
    pen = Pen(ColorSystem.EIGHT_BIT)
    pen.write("a", Style.parse("color(100) on color(200)"))
    assert pen.write("b", Style.parse("color(101) on color(200)")) == "\x1b[38;5;101mb"
    assert pen.lift() == "\x1b[m"
    assert pen.lift() == ""
