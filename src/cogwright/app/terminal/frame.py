"""A model of the screen: what Textual writes goes in, what the terminal has to be sent comes out.

Textual writes whole widgets and, on any change of layout, the whole screen; over a slow line that is felt.
What the model understands waits for the end of the drawing, and then only the cells that differ are sent.
What it does not understand is passed on at once as it stands, and what the terminal shows counts as unknown
then.
"""

import re
from collections.abc import Callable, Iterator, Sequence
from typing import Final

from cogwright.app.terminal.cell_writer import CellPlace, CellWriter
from cogwright.app.terminal.cells import CellRow, split
from cogwright.app.terminal.differ import draw
from cogwright.app.terminal.rendition import PLAIN, RESET, Rendition, after

_TOKENS: Final = re.compile(
    r"(?P<looks>(?:\x1b\[[\d;:]*m[^\x00-\x1f\x7f-\x9f]*)+)"
    r"|(?P<more>[^\x00-\x1f\x7f-\x9f]+)"
    r"|\x1b\[(?P<place>\d*(?:;\d*)?)H"
    r"|(?P<control>\x1b\[[0-?]*[ -/]*[@-~])"
    r"|(?P<string>\x1b[\]PX^_][^\x07\x1b]*(?:\x07|\x1b\\)|\x07)"
    r"|(?P<line>\n)"
    r"|(?P<other>\x1b[ -/]*[0-~]?|.)",
    re.DOTALL,
)
#: Text in a look of its own: nearly all comes as such, one after another.
_IN_LOOK: Final = re.compile(r"\x1b\[([\d;:]*)m([^\x00-\x1f\x7f-\x9f]*)")
#: A sequence that the end of what was written has cut.
_CUT: Final = re.compile(r"\x1b(?:\[[0-?]*[ -/]*|[\]PX^_][^\x07\x1b]*\x1b?)?\Z")
#: Changes nothing on the screen: modes, questions to the terminal, modes of the keyboard.
_HARMLESS: Final = re.compile(r"\x1b\[(?:\?[\d;]+[hl]|\?\d+\$p|\d+n|[<>]\d*u)")
#: These bring another screen up, or the same one anew.
_SCREENS: Final = re.compile(r"\x1b\[\?(?:47|1047|1049)[hl]")
#: Stands round a drawing that the terminal is to show in one piece.
SYNC_START: Final = "\x1b[?2026h"
SYNC_END: Final = "\x1b[?2026l"


class ScreenModel:
    """The screen as Textual has drawn it, and as the terminal shows it.

    `ambiguous` says that the terminal draws the ambiguous characters of UAX 11 in one cell, `drawn` that
    there may be something to send.
    """

    def __init__(self) -> None:
        self.ambiguous = False
        self._wanted: list[CellRow] = []
        self._shown: list[CellRow] = []
        self._width = 0
        self._cursor: CellPlace | None = None
        self._look = PLAIN
        #: How the terminal writes now; None where that is not known.
        self._pen: Rendition | None = PLAIN
        self._cut = ""
        self.drawn = self._in_one_piece = False

    def resize(self, width: int, height: int) -> None:
        """The screen has this size. Nothing is known of one of another size than before."""
        if (width, height) != (self._width, len(self._wanted)):
            self._width = width
            self._wanted = [CellRow.unknown(width) for _ in range(height)]
            self._forget_cells()

    def forget(self) -> None:
        """Trust nothing of what the terminal shows: the next drawing is sent whole."""
        self._forget_cells()
        self._pen = None

    def _forget_cells(self) -> None:
        self._shown = [CellRow.unknown(self._width) for _ in self._wanted]
        self.drawn = True

    def write(self, data: str) -> str:
        """Take what Textual writes; what is to be passed on at once."""
        whole, self._cut = _parted(self._cut + data)
        return "".join(self._passed_on(whole))

    def drawing(self) -> str:
        """What makes the terminal show all that was drawn; nothing where it does already."""
        if not self.drawn:
            return ""
        self.drawn = False
        writer = CellWriter(self._pen)
        draw(writer, self._shown, self._wanted, self.ambiguous)
        self._shown = [row.copy() for row in self._wanted]
        text = writer.text(self._cursor)
        self._pen = writer.look
        whole, self._in_one_piece = self._in_one_piece and text, False
        return f"{SYNC_START}{text}{SYNC_END}" if whole else text

    def _passed_on(self, data: str) -> Iterator[str]:
        take: dict[str | None, Callable[[str], str | None]]
        take = {"more": self._put, "place": self._go, "control": self._control}
        take |= {"string": str, "line": self._new_line, "other": _unknown}
        for token in _TOKENS.finditer(data):
            kind = token.lastgroup
            if kind == "looks":
                in_looks = _IN_LOOK.findall(token.group())
                if not self._put_all(in_looks):
                    yield from self._one_by_one(in_looks)
                continue
            passed = take[kind](token.group(kind or 0))
            yield self._raw(token.group()) if passed is None else passed

    def _put_all(self, in_looks: Sequence[tuple[str, str]]) -> bool:
        """Texts in looks, in one go; False, and nothing done, where anything about them is not clear."""
        chars, looks, look = list[str](), list[Rendition](), self._look
        for parameters, text in in_looks:
            turned, cells = after(look, parameters), split(text)
            if turned is None or cells is None:
                return False
            look = turned
            chars += cells
            looks += [look] * len(cells)
        if chars and not self._fill(chars, looks):
            return False
        self._look = look
        return True

    def _one_by_one(self, in_looks: Sequence[tuple[str, str]]) -> Iterator[str]:
        for parameters, text in in_looks:
            look = after(self._look, parameters)
            if look is None:
                yield self._raw(f"\x1b[{parameters}m")
            else:
                self._look = look
            if text and self._put(text) is None:
                yield self._raw(text)

    def _fill(self, chars: Sequence[str], looks: Sequence[Rendition]) -> bool:
        """Fill cells from the cursor on, and go behind them; False where that is not possible."""
        if self._cursor is None or self._cursor[1] >= len(self._wanted):
            return False
        x, y = self._cursor
        end = self._wanted[y].put_cells(x, chars, looks)
        if end is None:
            return False
        self._cursor, self.drawn = (end, y), True
        return True

    # Each takes what a token says: what to pass on of it, None where it is not understood

    def _put(self, text: str) -> str | None:
        cells = split(text)
        return None if cells is None or not self._fill(cells, [self._look] * len(cells)) else ""

    def _new_line(self, _: str) -> str:
        """Textual goes to a place of its own after each."""
        self._cursor = None
        return ""

    def _go(self, place: str) -> str:
        y, _, x = place.partition(";")
        self._cursor = int(x or 1) - 1, int(y or 1) - 1
        return ""

    def _control(self, sequence: str) -> str | None:
        if sequence in (SYNC_START, SYNC_END):
            self._in_one_piece = True
            return ""
        if _SCREENS.fullmatch(sequence):
            self._forget_cells()
            before, self._pen = "" if self._pen == PLAIN else RESET, PLAIN
            return before + sequence
        return sequence if _HARMLESS.fullmatch(sequence) else None

    def _raw(self, token: str) -> str:
        """What is not understood: at its place and in its look, after what was drawn before; or, where its
        place is not known either, wherever what came before it has left the cursor.
        """
        before = ""
        if self._cursor is not None:
            before = self.drawing()
        writer = CellWriter(self._pen)
        if self._cursor is not None:
            writer.go(self._cursor)
        writer.turn(self._look)
        writer.say(token)
        writer.turn(PLAIN)
        self._cursor, self._pen = None, PLAIN
        self._forget_cells()
        return before + writer.text()


def _unknown(_: str) -> None:
    """No token of ours."""


def _parted(data: str) -> tuple[str, str]:
    """What was written, and the sequence at its end that is cut; its last but one escape may begin that."""
    last = data.rfind("\x1b")
    for start in (data.rfind("\x1b", 0, max(last, 0)), last):
        if start >= 0 and _CUT.match(data, start):
            return data[:start], data[start:]
    return data, ""
