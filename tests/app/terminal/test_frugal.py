"""What is sent makes the terminal show the drawing: played into an emulated terminal and read back."""

import random

import pyte
from rich.console import Console
from rich.segment import Segment
from rich.style import Style
from textual.strip import Strip

from cogwright.app.terminal.frugal import Frugal, Move, best_move

WIDTH, HEIGHT = 40, 16
STYLES = [Style.parse(text) for text in ("default", "bold red", "on blue", "reverse")]


def strip(text: str, style: Style = STYLES[0]) -> Strip:
    return Strip([Segment(text.ljust(WIDTH)[:WIDTH], style)])


class Played:
    """An emulated terminal that is sent one drawing after the other."""

    def __init__(self) -> None:
        self.frugal = Frugal()
        self.screen = pyte.Screen(WIDTH, HEIGHT)
        self.stream = pyte.Stream(self.screen)
        self.console = Console(force_terminal=True, color_system="truecolor", width=WIDTH)
        self.sent = 0

    def draw(self, strips: list[Strip]) -> None:
        update = self.frugal.update(strips)
        text = update.render_segments(self.console) if update else ""
        self.sent = len(text.encode())
        self.stream.feed(text)

    def shows(self, strips: list[Strip]) -> bool:
        return [row.rstrip() for row in self.screen.display] == [s.text.rstrip() for s in strips]


def test_random_drawings_are_shown_as_they_are() -> None:
    chance, played = random.Random(7), Played()
    rows = [strip(f"row {n}") for n in range(HEIGHT)]
    for _ in range(400):
        kind = chance.randrange(4)
        at, count = chance.randrange(HEIGHT), chance.randint(1, 3)
        if kind == 0:  # rows appear, and those below move down
            rows = [*rows[:at], *(strip(f"new {chance.random():.3f}") for _ in range(count)), *rows[at:]][
                :HEIGHT
            ]
        elif kind == 1:  # rows go
            rows = [*rows[:at], *rows[at + count :], *(strip("") for _ in range(HEIGHT))][:HEIGHT]
        elif kind == 2:  # a few cells change
            text, cut = rows[at].text, chance.randrange(WIDTH - 8)
            rows[at] = strip(text[:cut] + f"{chance.random():.4f}" + text[cut + 6 :], chance.choice(STYLES))
        else:  # only the style does
            rows[at] = strip(rows[at].text, chance.choice(STYLES))
        played.draw(rows)
        assert played.shows(rows)


def test_a_drawing_without_a_change_sends_nothing() -> None:
    played = Played()
    rows = [strip(f"row {n}") for n in range(HEIGHT)]
    played.draw(rows)
    assert played.sent > 200
    played.draw([strip(f"row {n}") for n in range(HEIGHT)])
    assert played.sent == 0


def test_an_inserted_row_moves_the_others_instead_of_sending_them() -> None:
    played = Played()
    rows = [strip(f"row {n} " + "x" * 30) for n in range(HEIGHT)]
    played.draw(rows)
    whole = played.sent
    played.draw([*rows[:3], strip("lost"), *rows[3:-1]])
    assert played.sent < whole / 5
    assert best_move(rows, [*rows[:3], strip("lost"), *rows[3:-1]]) == Move(3, HEIGHT - 1, 1)


def test_after_a_resize_everything_is_sent() -> None:
    played = Played()
    rows = [strip(f"row {n}") for n in range(HEIGHT)]
    played.draw(rows)
    first = played.sent
    played.frugal.forget()
    played.draw(rows)
    assert played.sent == first


def test_a_wide_character_keeps_its_two_cells() -> None:
    played = Played()
    blank = [strip("") for _ in range(HEIGHT - 1)]
    played.draw([strip("ab\u6f22cd"), *blank])
    played.draw([Strip([Segment("ab\u6f22xd" + " " * (WIDTH - 6))]), *blank])
    assert played.screen.display[0].startswith("ab\u6f22xd")
