"""The bytes that a terminal sends, cut into what was typed, what was pasted, and answers to questions.

Textual's parser gives what it does not know out as keys: the tail of a paste that holds an escape, a report
that came late or in pieces. So it is only ever handed characters and whole sequences; all else ends here. How
long a sequence may take to come is decided here too.
"""

import codecs
import re
from collections.abc import Callable, Generator, Iterator
from typing import Final, NamedTuple

from cogwright.app.terminal.paste import END, START, Paste
from cogwright.app.terminal.sequences import keys_of

#: An unfinished sequence is forgotten after so long, s.
UNFINISHED_S: Final = 2.0
#: A paste whose end does not come ends after so long a silence, s. What comes next is more of it if it holds
#: the end or has more bytes than a key.
SILENCE_S: Final = 2.0
KEY_BYTES: Final = 16
#: So long after an escape that came alone, s, the rest of an answer is known for one.
LATE_S: Final = 2.0
#: Bytes of an unfinished sequence that are kept: more than a key has, so that it is none when it ends.
KEPT: Final = 64

_WHOLE: Final = re.compile(
    rb"(?P<text>[^\x1b]+)"
    rb"|(?P<paste>\x1b\[200~)"
    rb"|(?P<place>\x1b\[(?P<row>\d{1,5});(?P<column>\d{1,5})R)"
    rb"|(?P<dropped>\x1b\[M.{3}|\x1b(?:\][\dlL]|P[\d>!+|$]|_G)[^\x07\x1b]*(?:\x07|\x1b\\))"
    rb"|(?P<sequence>\x1b\[\d\d?\$|\x1b\[(?!M)(?:\[[@-~]|[ -?]*[@-Z\\-~])|\x1bO[ -~]|\x1b[\t\x7f])",
    re.DOTALL,
)
_UNFINISHED: Final = re.compile(
    rb"\x1b(?:\[(?:M.{0,2}|\[|[ -?]*)|[O\]P_]|(?:\][\dlL]|P[\d>!+|$]|_G)[^\x07\x1b]*\x1b?)?\Z", re.DOTALL
)
_BROKEN: Final = re.compile(rb"\x1b(?:\[[ -?]*|(?:\][\dlL]|P[\d>!+|$]|_G)[^\x07\x1b]*)?")
#: What an answer begins with but for its escape.
_ANSWER: Final = re.compile(rb"\[(?:[ -~]|\Z)|\](?:[\dlL]|\Z)|P[\d>!+|$]|_G")


class Keyed(NamedTuple):
    """Characters, or one sequence that may be a key, the mouse or the focus."""

    text: str


class Pasted(NamedTuple):
    """A paste, safe to show; whether it was cut at the limit, and whether its end has come."""

    text: str
    cut: bool = False
    ended: bool = True


class CursorAt(NamedTuple):
    """The answer to a question: where the cursor is, as column and row from 0."""

    x: int
    y: int


Unit = Keyed | Pasted | CursorAt
ESCAPE: Final = Keyed("\x1b")


class Incoming:
    """Takes bytes as they come, cut anywhere. Times are in s, from a clock that never goes back.

    `escape_s` says how long an escape may wait for what makes a sequence of it, s.
    """

    def __init__(self, escape_s: Callable[[], float]) -> None:
        self._escape_s = escape_s
        self._held = b""
        self._since = 0.0
        self._alone_until = 0.0
        self._late = self._silent = False
        self._paste: Paste | None = None
        self._decoder = codecs.getincrementaldecoder("utf-8")("replace")

    def feed(self, data: bytes, now: float) -> list[Unit]:
        """What these bytes make, in order."""
        data = self._known_for_more(data, now)
        held, self._held = self._held, b""
        return list(self._cut(held + data, now, self._since if held else now))

    def wait(self, now: float) -> float | None:
        """How long until something has waited long enough, s; None where nothing waits."""
        limit = self._limit()
        return None if limit is None else max(self._since + limit - now, 0.0)

    def timed_out(self, now: float) -> list[Unit]:
        """What is made of that which has waited long enough."""
        if self.wait(now) != 0.0:
            return []
        if self._paste is not None:
            paste, self._paste, self._silent = self._paste, None, True
            return [Pasted(paste.text(), paste.cut, ended=False)]
        held, self._held = self._held, b""
        if held == b"\x1b":
            self._alone_until = now + LATE_S
            return [ESCAPE]
        if len(held) == 2:  # two keys after all
            return [*([] if self._late else [ESCAPE]), Keyed(held[1:].decode())]
        return self._text(b"", final=True)

    def _limit(self) -> float | None:
        if self._paste is not None:
            return SILENCE_S
        if not self._held and not self._decoder.getstate()[0]:
            return None
        return self._escape_s() if len(self._held) <= 1 + self._late else UNFINISHED_S

    def _known_for_more(self, data: bytes, now: float) -> bytes:
        """The bytes with the beginning that a time-out has taken from them."""
        more, self._silent = self._silent and (END in data or len(data) > KEY_BYTES), False
        self._late = self._alone_until > now and bool(_ANSWER.match(data))
        self._alone_until = 0.0
        return START + data if more else b"\x1b" + data if self._late else data

    def _cut(self, data: bytes, now: float, since: float) -> Iterator[Unit]:
        """Cut the bytes; what is unfinished is held, `since` when it has waited."""
        while data:
            if self._paste is not None:
                data = yield from self._pasted(self._paste, data)
                since = now
            elif whole := _WHOLE.match(data):
                yield from self._whole(whole)
                data, since = data[whole.end() :], now
            elif _UNFINISHED.match(data):
                self._held, data = data if len(data) < KEPT else data[: KEPT - 1] + data[-1:], b""
            else:
                broken = data[: _broken_at(data)]
                data, since = data[len(broken) :], now
                yield from self._text(b"", final=True)
                yield from [ESCAPE] if broken == b"\x1b" and data[0] < 0x80 else []
        self._since = since

    def _pasted(self, paste: Paste, data: bytes) -> Generator[Unit, None, bytes]:
        rest = paste.take(data)
        if rest is None:
            return b""
        self._paste = None
        if text := paste.text():
            yield Pasted(text, paste.cut)
        return rest

    def _whole(self, found: re.Match[bytes]) -> Iterator[Unit]:
        if found.lastgroup == "text":
            yield from self._text(found.group())
            return
        yield from self._text(b"", final=True)
        if found.lastgroup == "paste":
            self._paste = Paste()
        elif found.lastgroup == "place":
            yield CursorAt(int(found["column"]) - 1, int(found["row"]) - 1)
        elif found.lastgroup == "sequence":
            yield from map(Keyed, keys_of(found.group().decode("ascii")))

    def _text(self, data: bytes, final: bool = False) -> list[Unit]:
        """Characters; one that the end has cut waits for its rest."""
        text = self._decoder.decode(data, final)
        return [Keyed(text)] if text else []


def _broken_at(data: bytes) -> int:
    """Where a sequence stops to be one."""
    found = _BROKEN.match(data)
    return found.end() if found else len(data)
