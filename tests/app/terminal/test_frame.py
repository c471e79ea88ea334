"""What is sent makes the terminal show what was drawn: played into an emulated terminal and read back."""

import random
from collections.abc import Sequence

import pyte
import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len
from rich.console import Console
from rich.control import Control
from rich.segment import Segment
from rich.style import Style
from textual.strip import Strip

from cogwright.app.terminal.cells import CellRow
from cogwright.app.terminal.differ import RowMove, best_move
from cogwright.app.terminal.frame import SYNC_END, SYNC_START, ScreenModel
from support import long_run

WIDTH, HEIGHT = 40, 16
STYLES = [
    Style.parse(text) for text in ("default", "bold red", "on blue", "reverse", "dim #102030 on #405060")
]
CONSOLE = Console(force_terminal=True, color_system="truecolor", width=WIDTH)


def strip(text: str, style: Style = STYLES[0]) -> Strip:
    return Strip([Segment(text, style)]).adjust_cell_length(WIDTH, style)


def written(strips: Sequence[Strip], x: int = 0, y: int = 0) -> str:
    """Strips from a place on, as Textual writes them."""
    rows = [Control.move_to(x, y + n).segment.text + row.render(CONSOLE) for n, row in enumerate(strips)]
    return "\n".join(rows) + Control.move_to(0, 0).segment.text


class Played:
    """An emulated terminal under a frame, and beside it one that is sent all that was written."""

    def __init__(self) -> None:
        self.frame = ScreenModel()
        self.frame.resize(WIDTH, HEIGHT)
        self.screen, self.whole = pyte.Screen(WIDTH, HEIGHT), pyte.Screen(WIDTH, HEIGHT)
        self.stream, self.whole_stream = pyte.Stream(self.screen), pyte.Stream(self.whole)
        for stream in (self.stream, self.whole_stream):
            stream.feed("\x1b[?7l")  # nothing wraps in the app
        self.sent = ""

    def write(self, text: str) -> None:
        self.sent = self.frame.write(text) + self.frame.drawing()
        self.stream.feed(self.sent)
        self.whole_stream.feed(text)

    def draw(self, strips: Sequence[Strip], x: int = 0, y: int = 0) -> None:
        self.write(written(strips, x, y))

    def agree(self) -> bool:
        return seen(self.screen) == seen(self.whole)


def seen(screen: pyte.Screen) -> list[list[object]]:
    """All cells as they look; of a blank one only what shows."""
    return [[look(screen.buffer[y][x]) for x in range(WIDTH)] for y in range(HEIGHT)]


def look(cell: pyte.screens.Char) -> object:
    plain = not (cell.underscore or cell.strikethrough or cell.reverse)
    return (cell.data, cell.bg) if cell.data == " " and plain else cell


@pytest.mark.long
def test_random_drawings_are_shown_as_they_are() -> None:
    chance, played = random.Random(7), Played()
    rows = [strip(f"row {n}") for n in range(HEIGHT)]
    for _ in range(long_run(400, 8)):
        kind = chance.randrange(4)
        at, count = chance.randrange(HEIGHT), chance.randint(1, 3)
        if kind == 0:  # rows appear, and those below move down
            new = [strip(f"new {chance.random():.3f}") for _ in range(count)]
            rows = [*rows[:at], *new, *rows[at:]][:HEIGHT]
        elif kind == 1:  # rows go
            rows = [*rows[:at], *rows[at + count :], *(strip("") for _ in range(HEIGHT))][:HEIGHT]
        elif kind == 2:  # a few cells change
            text, cut = rows[at].text, chance.randrange(WIDTH - 8)
            rows[at] = strip(text[:cut] + f"{chance.random():.4f}" + text[cut + 6 :], chance.choice(STYLES))
        else:  # only the style does
            rows[at] = strip(rows[at].text, chance.choice(STYLES))
        played.draw(rows)
        assert played.agree()


LINE = st.tuples(st.text(st.sampled_from("ab .\u28ff\u6f22\uac00"), max_size=WIDTH), st.sampled_from(STYLES))
PIECE = st.tuples(
    st.integers(0, WIDTH - 9), st.integers(0, HEIGHT - 1), st.sampled_from(["xy", "a b  ", "\u28ff"])
)


@pytest.mark.long(cases=0)
@given(lines=st.lists(LINE, min_size=1, max_size=HEIGHT), pieces=st.lists(PIECE, max_size=6))
def test_wide_characters_are_sent_whole(
    lines: list[tuple[str, Style]], pieces: list[tuple[int, int, str]]
) -> None:
    """A piece that covers half of one leaves a blank where the other half was, as terminals do."""
    played, fresh = Played(), Played()
    rows = [strip(text, style) for text, style in [*lines, *[("", STYLES[0])] * HEIGHT][:HEIGHT]]
    played.draw(rows)
    assert played.agree()
    for x, y, text in pieces:
        piece = Strip([Segment(text)])
        played.draw([piece], x, y)
        rows[y] = Strip.join([rows[y].crop(0, x), piece, rows[y].crop(x + len(text), WIDTH)])
    fresh.draw(rows)
    assert seen(played.screen) == seen(fresh.whole)


def test_a_drawing_without_a_change_sends_nothing() -> None:
    played = Played()
    rows = [strip(f"row {n}") for n in range(HEIGHT)]
    played.draw(rows)
    assert len(played.sent) > 100
    played.draw([strip(f"row {n}") for n in range(HEIGHT)])
    assert played.sent == ""


def test_a_changed_cell_is_sent_alone() -> None:
    played = Played()
    played.draw([strip("36x45 is a gear")])
    played.draw([strip("36x46 is a gear")])
    assert played.sent == "\x1b[1;5H6\x1b[H"


def test_a_blank_end_is_erased_and_not_sent() -> None:
    played = Played()
    played.draw([strip("x" * WIDTH)])
    played.draw([strip("xxxx")])
    assert played.sent == "\x1b[1;5H\x1b[K\x1b[H"
    assert played.agree()


def test_an_inserted_row_moves_the_others_instead_of_sending_them() -> None:
    played = Played()
    rows = [strip(f"row {n} " + "x" * 30) for n in range(HEIGHT)]
    played.draw(rows)
    whole = len(played.sent)
    played.draw([*rows[:3], strip("lost"), *rows[3:-1]])
    assert len(played.sent) < whole / 5
    assert played.agree()


def test_the_move_that_is_chosen_spans_the_rows_that_have_moved() -> None:
    before = [CellRow.unknown(3) for _ in range(8)]
    for n, row in enumerate(before):
        row.chars[:] = f"{n:3}"
    after = [*before[:3], CellRow(list("new"), before[0].looks), *before[3:-1]]
    assert best_move(before, after) == RowMove(3, 7, 1)
    assert best_move(before, before) is None


def test_once_forgotten_everything_is_sent() -> None:
    played = Played()
    rows = [strip(f"row {n}") for n in range(HEIGHT)]
    played.draw(rows)
    first = played.sent
    played.frame.forget()
    played.write("")
    assert played.sent == f"\x1b[m{first}", "nor is it known how the terminal writes"
    played.frame.resize(WIDTH, HEIGHT)  # the same size
    played.write("")
    assert played.sent == ""


def test_after_a_resize_nothing_is_sent_of_what_was_drawn_before() -> None:
    played = Played()
    played.draw([strip(f"row {n}") for n in range(HEIGHT)])
    played.frame.resize(WIDTH - 5, HEIGHT)
    played.write("\x1b[3;1Hnew")
    assert "new" in played.sent
    assert "row" not in played.sent


@pytest.mark.parametrize(
    "unknown",
    [
        "\x1b[2J",
        "\x1b[4:3m",
        "\x1b[3;5H\tx",
        "\x1b[1;38Htoo long",
        "\x1b[2;2H\U0001f468\u200d\U0001f33e",
        "\x1bc",
    ],
)
def test_what_is_not_understood_is_passed_on_and_the_screen_sent_again(unknown: str) -> None:
    played = Played()
    rows = [strip(f"row {n}") for n in range(HEIGHT)]
    played.draw(rows)
    first = played.sent
    played.frame.write(f"\x1b[5;1Hbefore{unknown}")
    played.draw(rows)
    assert played.frame.drawing() == ""
    assert played.sent == first
    passed = Played().frame.write(f"\x1b[5;1Hbefore{unknown}")
    assert "before" in passed, "what was drawn before it comes before it"
    assert unknown.removeprefix("\x1b[3;5H").removeprefix("\x1b[1;38H").removeprefix("\x1b[2;2H") in passed


@pytest.mark.parametrize(
    "harmless",
    ["\x1b[?1004h", "\x1b[?2026$p", "\x1b[>25u", "\x1b[<u", "\x07", "\x1b]22;text\x07", "\x1b]52;c;YQ\x1b\\"],
)
def test_what_changes_no_cell_is_passed_on_at_once_and_nothing_is_forgotten(harmless: str) -> None:
    played = Played()
    played.draw([strip("row")])
    assert played.frame.write(harmless) == harmless
    assert played.frame.drawing() == ""


def test_a_sequence_that_comes_in_two_writes_is_one() -> None:
    frame = ScreenModel()
    frame.resize(WIDTH, HEIGHT)
    whole = "\x1b[2;3H\x1b[1;31mred\x1b[0m\x1b[1;1H"
    expected = frame.write(whole) + frame.drawing()
    for cut in range(len(whole)):
        halves = ScreenModel()
        halves.resize(WIDTH, HEIGHT)
        assert halves.write(whole[:cut]) + halves.write(whole[cut:]) + halves.drawing() == expected


def test_a_drawing_in_one_piece_is_sent_in_one() -> None:
    played = Played()
    played.draw([strip("one")])
    played.write(f"{SYNC_START}{written([strip('two')])}{SYNC_END}")
    assert played.sent.startswith(SYNC_START)
    assert played.sent.endswith(SYNC_END)
    played.write(f"{SYNC_START}{written([strip('two')])}{SYNC_END}")
    assert played.sent == ""


# Terminals that draw a character wider or narrower than it is taken for

UNSURE = {
    "marks": "e\u0301\u0302",
    "picture": "\U0001f6b2",
    "block": "\u2588",
    "right to left": "\u05d0\u05d1",
}


@pytest.mark.parametrize("drawn_in", [1, 2])
@pytest.mark.parametrize("char", UNSURE.values(), ids=UNSURE)
def test_what_stands_beside_a_character_of_doubtful_width_is_in_its_place(
    char: str, drawn_in: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    played = Played()
    before = [strip(f"12345{char}890 a long tail to be gone"), strip("below")]
    after = [strip(f"12345{char}8x0"), strip("below")]
    monkeypatch.setattr(
        pyte.screens, "wcwidth", lambda c: drawn_in if c in char and c not in "\u0301\u0302e" else 1
    )
    played.draw(before)
    played.draw(after)
    row = played.screen.buffer[0]
    place = 5 + cell_len(char)
    assert "".join(row[x].data for x in range(5)) == "12345"
    assert "".join(row[x].data for x in range(place, place + 3)) == "8x0"
    assert {row[x].data for x in range(place + 3, WIDTH)} <= {" "}
    assert played.screen.display[1].rstrip() == "below"


def test_blocks_take_no_more_bytes_than_letters_once_they_are_known_to_be_narrow() -> None:
    known, unknown = Played(), Played()
    known.frame.ambiguous = True
    for played in (known, unknown):
        played.draw([strip("\u2588" * 20 + " 1.76")])
        played.draw([strip("\u2588" * 20 + " 1.77")])
    assert known.sent == "\x1b[1;25H7\x1b[H"
    assert len(unknown.sent) > 100
