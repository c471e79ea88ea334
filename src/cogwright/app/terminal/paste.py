"""What was pasted, as text: nothing of it is ever taken for a key.

A terminal puts a mark before and after a paste (bracketed paste). All between them is kept as bytes, up to a
limit, and made safe to show as a whole once the end has come.
"""

import re
from typing import Final

from cogwright.core.common.safe_text import clean

START: Final = b"\x1b[200~"
END: Final = b"\x1b[201~"
#: Bytes of a paste that are kept.
LIMIT: Final = 65_536
#: Control sequences, strings and other escapes, whole or cut: their letters are no text.
_ESCAPES: Final = re.compile(
    r"\x1b(?:\[[0-?]*[ -/]*[@-~]?|[\]PX^_][^\x07\x1b]*(?:\x07|\x1b\\)?|[ -/]*[0-~]?)"
)


class Paste:
    """A paste under way."""

    def __init__(self) -> None:
        self._kept = bytearray()
        self._tail = b""
        self.cut = False

    def take(self, data: bytes) -> bytes | None:
        """Take more of it; what follows its end, None where the end has not come."""
        data = self._tail + data
        at = data.find(END)
        inside = data[: max(len(data) - len(END) + 1, 0)] if at < 0 else data[:at]
        self._tail = data[len(inside) :] if at < 0 else b""
        self._keep(inside)
        return None if at < 0 else data[at + len(END) :]

    def _keep(self, data: bytes) -> None:
        room = LIMIT - len(self._kept)
        self.cut = self.cut or len(data) > room
        self._kept += data[:room]

    def text(self) -> str:
        """What was kept, without anything that a terminal would obey; lines end in a line feed."""
        self._keep(self._tail)
        self._tail = b""
        whole = self._kept.decode(errors="ignore" if self.cut else "replace")
        lines = _ESCAPES.sub("", whole).replace("\r\n", "\n").replace("\r", "\n")
        return clean(lines, keep_newlines=True)
