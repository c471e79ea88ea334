"""What comes of the terminal's bytes once Textual's own parser has had them: events for the app."""

import errno
import os
import random
import threading
import time
import tracemalloc
from collections.abc import Iterator

import pytest
from hypothesis import given
from hypothesis import strategies as st
from textual import events
from textual.message import Message

from cogwright.app.terminal.messages import PasteCut
from cogwright.app.terminal.paste import END, LIMIT, START
from cogwright.app.terminal.reading import HungUp, Reader
from support import long_run


def events_of(*parts: bytes) -> list[Message]:
    reader = Reader(lambda: 0.1)
    return [event for part in parts for event in reader.events(part)]


def keys(*parts: bytes) -> list[str]:
    return [event.key for event in events_of(*parts) if isinstance(event, events.Key)]


def test_keys_are_what_textual_calls_them() -> None:
    assert keys(b"a\x1b[A\x1bOP\x1b[3~\x1b[1;5D\r\t\x7f ?") == [
        *["a", "up", "f1", "delete", "ctrl+left", "enter", "tab", "backspace", "space", "question_mark"]
    ]
    assert keys(b"\x1b[97;5u\x1b[1;2A\x1b[Z") == ["ctrl+a", "shift+up", "shift+tab"]


def test_an_unknown_sequence_is_no_key_and_keys_after_it_are() -> None:
    assert keys(b"\x1b[31mq") == ["q"]
    assert keys(b"\x1b[9999Xq\x1b[A") == ["q", "up"]
    assert keys(b"\x1bO~q") == ["q"]


def test_the_mouse_and_the_focus_come_through() -> None:
    got = events_of(b"\x1b[<0;5;3M\x1b[<0;5;3m\x1b[<65;5;3M\x1b[I\x1b[O")
    assert [type(event) for event in got] == [
        *[events.MouseDown, events.MouseUp, events.MouseScrollDown, events.AppFocus, events.AppBlur]
    ]
    assert isinstance(got[0], events.MouseDown)
    assert (got[0].x, got[0].y) == (4, 2)


def test_a_paste_is_one_event_in_its_turn() -> None:
    got = events_of(b"a" + START + b"note \x1b[31mDy" + END + b"b")
    assert [type(event) for event in got] == [events.Key, events.Paste, events.Key]
    assert isinstance(got[1], events.Paste)
    assert got[1].text == "note Dy"


def test_a_paste_that_was_cut_is_said_to_be() -> None:
    got = events_of(START + b"x" * (LIMIT + 1) + END)
    assert [type(event) for event in got] == [events.Paste, PasteCut]
    assert isinstance(got[1], PasteCut)
    assert "64 kB" in got[1].text


def coloured(size: int) -> bytes:
    """A paste of so many bytes, most of them colours."""
    return START + b"\x1b[1;38;5;208mx\x1b[m" * (size // 17) + END


def taken(data: bytes) -> tuple[float, float]:
    """Seconds and peak MB that a paste takes."""
    reader = Reader(lambda: 0.1)
    tracemalloc.start()
    begun = time.process_time()
    for at in range(0, len(data), 4096):
        list(reader.events(data[at : at + 4096]))
    spent = time.process_time() - begun
    peak = tracemalloc.get_traced_memory()[1] / 1e6
    tracemalloc.stop()
    return spent, peak


def test_a_large_coloured_paste_costs_no_more_than_its_size() -> None:
    """It took 66 s and 1.7 GB for 400 kB."""
    quarter, whole = taken(coloured(100_000)), taken(coloured(400_000))
    assert whole[0] < 8 * quarter[0] + 0.1
    assert whole[1] < 10


@given(st.lists(st.binary(min_size=1, max_size=60), max_size=20))
def test_no_bytes_end_it(parts: list[bytes]) -> None:
    events_of(*parts)


@pytest.mark.long
def test_sixty_thousand_random_bytes_end_nothing() -> None:
    chance = random.Random(11)
    pieces = [
        b"\x1b",
        b"\x1b[",
        b"\x1b]",
        b"\x1b[<",
        b"\x1b[M",
        b";",
        b"1114112",
        b"u",
        b"~",
        b"R",
        b"t",
        b"\xe9",
    ]
    for _ in range(long_run(20, 20)):
        reader, sent = Reader(lambda: 0.1), 0
        while sent < long_run(60_000, 4):
            data = b"".join(
                chance.choice(pieces) if chance.random() < 0.5 else chance.randbytes(chance.randrange(9))
                for _ in range(40)
            )
            sent += len(data)
            list(reader.events(data or b"a"))


def test_the_reader_reads_until_it_is_told_to_stop() -> None:
    read, write = os.pipe()
    stop, got = threading.Event(), []
    thread = threading.Thread(target=Reader(lambda: 0.05).run, args=(read, stop, got.append))
    thread.start()
    os.write(write, b"a\x1b")
    end = time.monotonic() + 10
    while len(got) < 2 and time.monotonic() < end:
        time.sleep(0.01)
    stop.set()
    thread.join(10)
    assert not thread.is_alive()
    assert [event.key for event in got if isinstance(event, events.Key)] == ["a", "escape"]
    os.close(write)
    os.close(read)


def test_the_end_of_the_terminal_is_said() -> None:
    read, write = os.pipe()
    os.write(write, b"q")
    os.close(write)
    got: list[Message] = []
    with pytest.raises(HungUp):
        Reader(lambda: 0.1).run(read, threading.Event(), got.append)
    os.close(read)
    assert [event.key for event in got if isinstance(event, events.Key)] == ["q"]


def reads(monkeypatch: pytest.MonkeyPatch, *what: bytes | OSError) -> None:
    """Reading a terminal gives this in turn."""
    left = list(what)

    def read(*_: object) -> bytes:
        one = left.pop(0)
        if isinstance(one, OSError):
            raise one
        return one

    monkeypatch.setattr("cogwright.app.terminal.reading.os.read", read)


@pytest.fixture
def ready() -> Iterator[int]:
    """What always has something to read."""
    here, there = os.pipe()
    os.write(there, b"x")
    yield here
    os.close(here)
    os.close(there)


def test_a_terminal_that_somebody_else_has_read_is_read_on_and_one_that_is_gone_hangs_up(
    ready: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    got: list[Message] = []
    reads(monkeypatch, BlockingIOError(), b"a", BlockingIOError(), b"b", OSError(errno.EIO, "gone"))
    with pytest.raises(HungUp):
        Reader(lambda: 0.1).run(ready, threading.Event(), got.append)
    assert [event.key for event in got if isinstance(event, events.Key)] == ["a", "b"]


def test_any_other_error_of_a_terminal_is_raised(ready: int, monkeypatch: pytest.MonkeyPatch) -> None:
    reads(monkeypatch, OSError(errno.ENOMEM, "no memory"))
    with pytest.raises(OSError, match="no memory"):
        Reader(lambda: 0.1).run(ready, threading.Event(), lambda _: None)
