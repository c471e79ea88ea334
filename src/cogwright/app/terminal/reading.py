"""Reads what the terminal sends, in a thread of its own, and hands it to the app as events."""

import errno
import os
import selectors
import threading
import time
from collections.abc import Callable, Iterator
from typing import Final

from textual import events
from textual._xterm_parser import XTermParser
from textual.message import Message

from cogwright.app.terminal.incoming import ESCAPE, CursorAt, Incoming, Keyed, Pasted, Unit
from cogwright.app.terminal.messages import PasteCut

#: Longest that the thread looks away from what it is told, s.
_LOOK_S: Final = 0.1
_READ: Final = 4096
#: Ends whatever the parser still waits for; it makes an event that nobody is told of.
_WASH: Final = "\x1b[O"


class HungUp(Exception):
    """The terminal is gone."""


class Reader:
    """Turns bytes into events. `escape_s` says how long an escape waits for the rest of a sequence, s."""

    def __init__(self, escape_s: Callable[[], float]) -> None:
        self._incoming = Incoming(escape_s)
        self._parser = XTermParser()

    def run(self, terminal: int, stop: threading.Event, take: Callable[[Message], None]) -> None:
        """Read until told to stop. Raises HungUp when there is no more to read, ever."""
        with selectors.SelectSelector() as selector:
            selector.register(terminal, selectors.EVENT_READ)
            while not stop.is_set():
                wait = self._incoming.wait(time.monotonic())
                ready = selector.select(_LOOK_S if wait is None else min(wait, _LOOK_S))
                for event in self.events(_read(terminal) if ready else None):
                    take(event)

    def events(self, data: bytes | None) -> Iterator[Message]:
        """The events that bytes make, or that none having come makes."""
        now = time.monotonic()
        units = self._incoming.timed_out(now) if data is None else self._incoming.feed(data, now)
        for unit in units:
            yield from self._of(unit)

    def _of(self, unit: Unit) -> Iterator[Message]:
        if isinstance(unit, Pasted):
            yield events.Paste(unit.text)
            if unit.cut or not unit.ended:
                yield PasteCut(unit.cut)
        elif isinstance(unit, CursorAt):
            yield events.CursorPosition(unit.x, unit.y)
        elif unit == ESCAPE:
            yield events.Key("escape", "\x1b")
        else:
            yield from self._parsed(unit)

    def _parsed(self, unit: Keyed) -> Iterator[Message]:
        found = list(self._parser.feed(unit.text))
        if unit.text.startswith("\x1b") and not found:
            list(self._parser.feed(_WASH))
        yield from found


def _read(terminal: int) -> bytes:
    """What there is. Raises HungUp at its end."""
    try:
        data = os.read(terminal, _READ)
    except BlockingIOError:  # somebody else has been quicker, or has made the terminal not wait
        return b""
    except OSError as error:
        if error.errno != errno.EIO:
            raise
        data = b""
    if not data:
        raise HungUp
    return data
