"""XML read in a stream, with its hazards closed.

Why the standard library's expat will do, with no further package: all hazards of XML but one come with a
document type (entities that grow without end, entities that fetch files or addresses), which no track
needs. A file with `<!DOCTYPE` or `<!ENTITY` is refused before it is parsed; one that hides them from that
search in another encoding is refused by the parser's handlers, at the declaration and before any entity is
used. External entities are never fetched: nothing here opens anything. The remaining hazard is size, so
the file, the depth of its elements, a single token and the text kept of each are limited. Parsing builds no
tree.
"""

from collections.abc import Iterable
from typing import Final, NoReturn
from xml.parsers import expat

from cogwright.core.common.errors import InputError, Problem
from cogwright.core.common.safe_text import clean
from cogwright.core.riding.recording import MOST_MOMENTS, Moment, Recorder

MAX_DEPTH: Final = 50
#: Characters kept of an element's text.
_TEXT: Final = 200
#: Bytes that one token may take. Fed in pieces, an unfinished token is read again with every piece.
_TOKEN: Final = 1_000_000
_DECLARED: Final = (b"<!DOCTYPE", b"<!ENTITY")


class XmlStream:
    """Goes through a file and calls `opened` and `closed`, which a kind of track overrides.

    `path` are the names of the elements that are open, without prefixes; `TEXTS` those whose text is kept.
    """

    ROOT = KIND = ""
    TEXTS: frozenset[str] = frozenset()

    def __init__(self, file: str) -> None:
        self.file = file
        self.path: list[str] = []
        self._text: list[str] = []
        self._room = 0
        self._fed = self._reached = 0
        self._parser = expat.ParserCreate()
        self._parser.buffer_text = True
        self._parser.StartElementHandler = self._start
        self._parser.EndElementHandler = self._end
        self._parser.CharacterDataHandler = self._chars
        self._parser.StartDoctypeDeclHandler = self._refuse
        self._parser.EntityDeclHandler = self._refuse
        self._parser.UnparsedEntityDeclHandler = self._refuse
        self._parser.ExternalEntityRefHandler = self._refuse

    def opened(self, name: str, attributes: dict[str, str]) -> None:
        """An element begins; it is the last one of `path`."""

    def closed(self, name: str, text: str) -> None:
        """An element has ended, with its text if that is kept; `path` are those around it."""

    def take(self, found: Recorder, moment: Moment) -> None:
        """Add a moment to a ride. Raises InputError when there are too many."""
        if found.full:
            raise self.wrong(f"it has more than {MOST_MOMENTS:,} points", "cut it into rides of a day")
        found.add(moment)

    def read(self, pieces: Iterable[bytes]) -> None:
        """Go through all pieces. Raises InputError."""
        tail = b""
        for piece in pieces:
            if any(word in tail + piece for word in _DECLARED):
                self._refuse()
            tail = (tail + piece)[-16:]
            self._feed(piece, final=False)
        self._feed(b"", final=True)

    def _feed(self, piece: bytes, final: bool) -> None:
        try:
            self._parser.Parse(piece, final)
        except expat.ExpatError as error:
            said = expat.ErrorString(error.code)
            raise error_in(self.file, f"not valid XML: {said}", "export it again", error.lineno) from error
        except (UnicodeError, LookupError) as error:
            raise error_in(self.file, "its text encoding cannot be read", "save it as UTF-8") from error
        self._fed += len(piece)
        if self._fed - self._reached > _TOKEN:
            raise self.wrong("one piece of it goes on for a million characters", "export it again")

    def _start(self, tag: str, attributes: dict[str, str]) -> None:
        self._reached = self._parser.CurrentByteIndex
        name = tag.rpartition(":")[2]
        if not self.path and name != self.ROOT:
            what = f"this is no {self.KIND} file: it starts with <{clean(name)[:20]}>"
            raise self.wrong(what, f"name a {self.KIND} file")
        self.path.append(name)
        if len(self.path) > MAX_DEPTH:
            raise self.wrong("elements stand inside elements too deep", "export it again")
        self._text, self._room = [], _TEXT if name in self.TEXTS else 0
        self.opened(name, attributes)

    def _chars(self, text: str) -> None:
        self._reached = self._parser.CurrentByteIndex
        if self._room > 0:
            self._text.append(text[: self._room])
            self._room -= len(text)

    def _end(self, _tag: str) -> None:
        self._reached = self._parser.CurrentByteIndex
        name = self.path.pop()
        self.closed(name, "".join(self._text) if name in self.TEXTS else "")
        self._text, self._room = [], 0

    def _refuse(self, *_about: object) -> NoReturn:
        what = "a document type or entity is declared in it, which no track needs and which can do harm"
        raise self.wrong(what, "take it out, or export the track again")

    def wrong(self, what: str, mend: str) -> InputError:
        """An error at the line that is being read."""
        return error_in(self.file, what, mend, self._parser.CurrentLineNumber)


def error_in(file: str, what: str, mend: str, line: int | None = None) -> InputError:
    """An error of a file, at a line if that is known."""
    return InputError(Problem(what, mend, file=file, line=line))
