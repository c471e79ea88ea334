"""Few bytes, the same look: what a writer writes is played into an emulated terminal and read back."""

import pyte
import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.color import ColorSystem
from rich.style import Style
from textual.strip import Strip

from cogwright.app.colours import DARK, LIGHT, OWN
from cogwright.app.terminal.cell_writer import CellWriter, TextPiece, pieces_of
from cogwright.app.terminal.cells import CellRow
from cogwright.app.terminal.rendition import PLAIN, Rendition, after, change

WIDTH = 40
STYLES = [*DARK.styles.values(), *LIGHT.styles.values(), *OWN.styles.values(), Style(), Style(underline=True)]
SYSTEMS = [ColorSystem.TRUECOLOR, ColorSystem.EIGHT_BIT, ColorSystem.STANDARD]
PIECES = st.lists(st.tuples(st.sampled_from(["a", "bc", " "]), st.sampled_from(STYLES)), max_size=12)


def played(text: str) -> list[tuple[object, ...]]:
    """Every cell that an emulated terminal shows: character, colours, weight; blanks as they look."""
    screen = pyte.Screen(WIDTH, 1)
    pyte.Stream(screen).feed(text)
    cells = [screen.buffer[0][x] for x in range(WIDTH)]
    seen = [
        not cell.data.isspace() or cell.underscore or cell.reverse or cell.strikethrough for cell in cells
    ]
    return [tuple(cell) if shows else (cell.bg,) for cell, shows in zip(cells, seen, strict=True)]


def parameters(style: Style, system: ColorSystem) -> str:
    """The style as Textual writes it, without the text."""
    return Strip.render_ansi(style, system)


@pytest.mark.parametrize("system", SYSTEMS)
@given(pieces=PIECES)
def test_the_terminal_shows_what_whole_styles_would_show(
    system: ColorSystem, pieces: list[tuple[str, Style]]
) -> None:
    row, writer, x = CellRow.unknown(WIDTH), CellWriter(), 0
    for text, style in pieces:
        rendition = after(PLAIN, parameters(style, system))
        assert rendition is not None
        x = row.put(x, text, rendition) or 0
    writer.cells(0, row, 0, x)
    whole = "".join(f"\x1b[{parameters(style, system)}m{text}\x1b[m" for text, style in pieces)
    assert played(writer.text()) == played(whole)


def test_the_same_look_is_not_said_twice() -> None:
    red = Rendition("1", "31", "44")
    assert change(red, red) == ""


def test_another_colour_on_the_same_ground_is_one_colour() -> None:
    assert (
        change(Rendition("", "38;5;100", "48;5;200"), Rendition("", "38;5;101", "48;5;200"))
        == "\x1b[38;5;101m"
    )


def test_an_attribute_that_goes_takes_a_reset_and_one_that_comes_does_not() -> None:
    assert change(Rendition("1"), Rendition("1;4")) == "\x1b[4m"
    assert change(Rendition("1;4", "31"), Rendition("1", "31")) == "\x1b[0;1;31m"
    assert change(Rendition("1", "31"), PLAIN) == "\x1b[m"


def test_where_more_than_sixteen_colours_are_shown_an_attribute_ends_alone_if_that_is_shorter() -> None:
    bold = Rendition("1", "38;5;179", "48;5;233")
    dim = Rendition("", "38;5;245", "48;5;233")
    assert change(bold, dim) == "\x1b[22;38;5;245m"  # ECMA-48, 8.3.117: 22 is normal intensity
    assert change(bold, Rendition("4", "38;5;179", "48;5;233")) == "\x1b[22;4m"
    assert change(bold, PLAIN) == "\x1b[m"
    both = Rendition("1;2", "38;5;179", "48;5;233")
    assert change(both, Rendition("2", "38;5;179", "48;5;233")) == "\x1b[0;2;38;5;179;48;5;233m"


@pytest.mark.parametrize("unknown", ["4:3", "58;5;1", "38;5", "38;2;1;2", "73", "1;22"])
def test_what_is_not_known_is_said_to_be(unknown: str) -> None:
    assert after(PLAIN, unknown) is None


def test_blanks_are_not_coloured_but_where_it_shows() -> None:
    row, writer = CellRow.unknown(4), CellWriter()
    for x, (char, look) in enumerate(zip("a  b", ["31", "32", "32", "39"], strict=True)):
        row.put(x, char, Rendition(text=look))
    writer.cells(0, row, 0, 4)
    assert writer.text() == "\x1b[H\x1b[31ma  \x1b[mb"


def test_blanks_take_of_a_look_what_is_seen_of_them() -> None:
    row, writer = CellRow.unknown(6), CellWriter(Rendition("", "32", "49"))
    row.put(0, "a", Rendition("1", "31", "44"))
    row.put(1, "   ", Rendition("1", "37", "40"))
    row.put(4, " ", Rendition("4", "37", "40"))
    writer.cells(0, row, 0, 5)
    assert writer.text() == "\x1b[H\x1b[1;31;44ma\x1b[40m   \x1b[0;4;37;40m ", "an underline is seen"


LOOKS = [PLAIN, Rendition("1", "38;5;221", "48;5;233"), Rendition("", "38;5;252", "48;5;233")]
SPOTS = st.tuples(
    st.integers(0, 7), st.integers(0, 3), st.sampled_from(["a", "b ", "  "]), st.sampled_from(LOOKS)
)


def screen_of(writer: CellWriter) -> list[tuple[tuple[str, str, str], ...]]:
    """What an emulated terminal of 40 x 8 shows of it: characters, and grounds and colours where seen."""
    screen = pyte.Screen(WIDTH, 8)
    pyte.Stream(screen).feed(writer.text())
    rows = ([screen.buffer[y][x] for x in range(WIDTH)] for y in range(8))
    return [tuple((c.data, c.bg, "" if c.data == " " else f"{c.fg} {c.bold}") for c in row) for row in rows]


@given(st.lists(SPOTS, unique_by=lambda spot: spot[:2], max_size=20))
def test_in_another_order_the_same_is_shown_in_no_more_bytes(
    spots: list[tuple[int, int, str, Rendition]],
) -> None:
    pieces = [
        TextPiece((9 * x, y), text, look, (9 * x + len(text), y), text.isspace())
        for y, x, text, look in sorted(spots)
    ]
    any_order, from_the_top = CellWriter(), CellWriter()
    any_order.pieces(pieces)
    for piece in pieces:
        from_the_top.pieces([piece])
    assert screen_of(any_order) == screen_of(from_the_top)
    assert len(any_order.text()) <= len(from_the_top.text())


def test_what_looks_alike_is_written_in_one_go_and_the_rest_from_the_top() -> None:
    row, red, blue = CellRow.unknown(WIDTH), Rendition("", "31", "49"), Rendition("", "34", "49")
    for x, (char, look) in enumerate(zip("abcd", [red, blue, red, blue], strict=True)):
        row.put(x, char, look)
    writer = CellWriter()
    writer.pieces([piece for y in (1, 4) for piece in pieces_of(y, row, 0, 2)])
    assert writer.text() == "\x1b[2H\x1b[31ma\x1b[5Ha\x1b[34mb\x1b[2;2Hb"
