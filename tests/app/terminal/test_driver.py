"""The driver laid over one of our own making, with a terminal that only remembers what it was sent."""

import asyncio
import threading
from typing import Any

import pytest
from textual import events
from textual.app import App
from textual.driver import Driver
from textual.drivers.headless_driver import HeadlessDriver
from textual.message import Message

from cogwright.app.terminal.driver import CellDriver, over
from cogwright.app.terminal.messages import Ambiguous, AmbiguousWidth
from cogwright.app.terminal.questions import ASK
from cogwright.app.terminal.terminal import Terminal
from cogwright.app.terminal.width import BLOCK, NO_BLOCK, WAIT_S

ON = "\x1b[?1049h\x1b[?1000h\x1b[?25l\x1b[>25u\x1b[?2004h"
OFF = "\x1b[?2004l\x1b[?1000l\x1b[<u\x1b[?1049l\x1b[?25h"


class Platform(Driver):
    """The lower half: switches modes as Textual's drivers do, and forgets one of them."""

    def __init__(
        self, app: App[Any], *, debug: bool = False, mouse: bool = True, size: tuple[int, int] | None = None
    ) -> None:
        super().__init__(app, debug=debug, mouse=mouse, size=size)
        self.written: list[str] = []
        self.told: list[Message] = []
        self.starts = 0

    def write(self, data: str) -> None:
        self.written.append(data)

    def send_message(self, message: Message) -> None:
        self.told.append(message)

    def start_application_mode(self) -> None:
        self.starts += 1
        self.write(ON)
        self.write("\x1b[?1016h")

    def disable_input(self) -> None:
        pass

    def stop_application_mode(self) -> None:
        self.write(OFF)
        self.flush()


class Under(App[int]):
    """An app of 20 columns and 4 rows that is never run."""

    @property
    def size(self) -> Any:
        return (20, 4)


def driver(platform: type[Driver] = Platform, asks_width: bool = False) -> Any:
    """The two halves on a terminal of their own."""
    terminal = Terminal()
    terminal.asks_width = asks_width
    made = over(platform, terminal)(Under())
    assert terminal.holder is made
    return made


@pytest.fixture
async def laid() -> Any:
    """Started, and nothing written since."""
    made = driver()
    made.start_application_mode()
    made.written.clear()
    return made


def drawn(driver: Any, text: str) -> str:
    """What is sent for a drawing."""
    driver.written.clear()
    driver.write(text)
    assert "".join(driver.written) == "", "nothing before the drawing is whole"
    driver.flush()
    return "".join(driver.written)


class Interrupted(Platform):
    """A signal comes as soon as the lower half watches for them: the library gives the terminal back."""

    def __init__(self, app: App[Any], **how: Any) -> None:
        super().__init__(app, **how)
        self.disable_input()
        self.stop_application_mode()


async def test_a_signal_while_it_is_made_finds_nothing_to_give_back() -> None:
    made = driver(Interrupted)
    assert made.written == []
    made.start_application_mode()
    assert ON in "".join(made.written)


async def test_a_drawing_is_sent_at_its_end_and_once(laid: Any) -> None:
    assert drawn(laid, "\x1b[1;1Hhello\x1b[1;1H") == "\x1b[Hhello\x1b[H"
    assert drawn(laid, "\x1b[1;1Hhello\x1b[1;1H") == ""
    assert drawn(laid, "\x1b[1;1Hhallo\x1b[1;1H") == "\x1b[1;2Ha\x1b[H"


async def test_a_whole_drawing_follows_once_the_app_has_forgotten(laid: Any) -> None:
    first = drawn(laid, "\x1b[1;1Hhello\x1b[1;1H")
    laid.terminal.forget()
    assert drawn(laid, "\x1b[1;1Hhello\x1b[1;1H") == f"\x1b[m{first}", "nor is it known how it writes"


async def test_what_is_no_drawing_goes_out_at_once(laid: Any) -> None:
    laid.write("\x07")
    assert laid.written == ["\x07"]


async def test_whatever_was_switched_on_is_switched_off(laid: Any) -> None:
    laid.stop_application_mode()
    assert "\x1b[?1016l" in "".join(laid.written), "which the platform's own half forgets"
    assert not laid.terminal.modes


async def test_nothing_is_drawn_on_the_shells_screen(laid: Any) -> None:
    drawn(laid, "\x1b[1;1Hhello\x1b[1;1H")
    laid.written.clear()
    laid.let_go()
    assert "".join(laid.written).startswith(OFF)
    assert "hello" not in "".join(laid.written)
    laid.take()
    laid.written.clear()
    laid.stop_application_mode()
    assert "hello" not in "".join(laid.written)


async def test_nothing_is_done_twice_nor_written_to_a_terminal_that_was_given_back(laid: Any) -> None:
    laid.start_application_mode()
    assert laid.starts == 1
    laid.stop_application_mode()
    laid.written.clear()
    laid.stop_application_mode()
    laid.write("\x1b[1;1Hlate")
    laid.flush()
    assert laid.written == []


async def test_the_screen_is_there_at_once_when_the_terminal_comes_back(laid: Any) -> None:
    drawn(laid, "\x1b[1;1Hhello\x1b[1;1H")
    laid.let_go()
    laid.written.clear()
    laid.take()
    assert laid.written[0] == f"\x1b[m{ON}\x1b[?1016h", "who knows in which look the shell wrote"
    assert laid.written[-1] == "\x1b[Hhello\x1b[H"


async def test_what_was_not_held_is_not_taken_again(laid: Any) -> None:
    laid.stop_application_mode()
    laid.let_go()
    laid.take()
    laid.again()
    assert laid.starts == 1


async def test_without_unix_there_is_no_shell_to_go_to(laid: Any) -> None:
    assert not laid.terminal.suspend()


async def test_it_lies_over_the_headless_driver_too() -> None:
    made = driver(HeadlessDriver)
    made.start_application_mode()
    made.write("\x1b[1;1Hhello")
    made.flush()
    made.stop_application_mode()
    assert isinstance(made, CellDriver)
    assert made.is_headless


# How wide a character of ambiguous width is


def width_told(driver: Any) -> list[Ambiguous]:
    return [message.width for message in driver.told if isinstance(message, AmbiguousWidth)]


async def answered(driver: Any, x: int, y: int) -> None:
    """The terminal's answer, from the thread that reads."""
    reading = threading.Thread(target=driver.process_message, args=(events.CursorPosition(x, y),))
    reading.start()
    reading.join()
    await asyncio.sleep(0.01)


@pytest.mark.parametrize(
    ("x", "y", "width"),
    [(1, 0, "NARROW"), (2, 0, "WIDE"), (0, 0, "UNKNOWN"), (1, 3, "UNKNOWN"), (3, 0, "UNKNOWN")],
)
async def test_the_terminal_says_how_wide_a_block_is(x: int, y: int, width: str) -> None:
    made = driver(asks_width=True)
    made.start_application_mode()
    assert "".join(made.written).endswith(f"{BLOCK}{ASK}{NO_BLOCK}")
    assert width_told(made) == [], "nobody waits for it"
    await answered(made, x, y)
    assert width_told(made) == [Ambiguous[width]]
    assert made.terminal.ambiguous is Ambiguous[width]
    assert not [message for message in made.told if isinstance(message, events.CursorPosition | events.Key)]


async def test_no_answer_is_one_too_and_a_late_answer_is_better(monkeypatch: pytest.MonkeyPatch) -> None:
    later: list[tuple[float, Any]] = []
    monkeypatch.setattr(CellDriver, "after", lambda _, seconds, what: later.append((seconds, what)))
    made = driver(asks_width=True)
    made.start_application_mode()
    ((seconds, give_up),) = later
    assert seconds == WAIT_S
    give_up()
    assert width_told(made) == [Ambiguous.UNKNOWN]
    await answered(made, 1, 0)
    assert width_told(made) == [Ambiguous.UNKNOWN, Ambiguous.NARROW]


async def test_it_is_asked_once_and_blocks_are_trusted_when_they_are_narrow() -> None:
    made = driver(asks_width=True)
    made.start_application_mode()
    await answered(made, 1, 0)
    made.let_go()
    made.written.clear()
    made.take()
    assert BLOCK not in "".join(made.written)
    drawn(made, "\x1b[1;1H\u2588\u2588 1.76")
    assert drawn(made, "\x1b[1;1H\u2588\u2588 1.77") == "\x1b[1;7H7"


async def test_nothing_is_asked_where_blocks_are_not_drawn() -> None:
    made = driver(asks_width=False)
    made.start_application_mode()
    assert ASK not in "".join(made.written)


async def test_an_answer_that_nobody_asked_for_goes_no_further(laid: Any) -> None:
    await answered(laid, 5, 5)
    assert laid.told == []


def test_a_signal_that_comes_after_the_loop_has_ended_asks_for_nothing() -> None:
    async def makes() -> Any:
        return driver(asks_width=False)

    made = asyncio.run(makes())
    made.soon(made.again)
    assert made.starts == 0
