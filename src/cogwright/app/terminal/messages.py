"""What the terminal has to tell the app beyond keys and the mouse."""

from enum import Enum

from textual.message import Message

from cogwright.app.terminal.paste import LIMIT


class Ambiguous(Enum):
    """In how many cells the terminal draws the characters of ambiguous width (UAX 11), as far as it says."""

    NARROW = "one"
    WIDE = "two"
    UNKNOWN = "no answer"


class AmbiguousWidth(Message):
    """The terminal has answered how wide an ambiguous character is, or has not answered in time."""

    def __init__(self, width: Ambiguous) -> None:
        super().__init__()
        self.width = width


class PasteCut(Message):
    """Not all of a paste was taken: it was over the limit, or its end has not come."""

    def __init__(self, over_limit: bool) -> None:
        super().__init__()
        self.over_limit = over_limit

    @property
    def text(self) -> str:
        """What there is to say of it."""
        if self.over_limit:
            return f"The paste was longer than {LIMIT // 1024} kB: the rest of it was left out."
        return "The end of the paste did not come: what had come was taken, and keys count again."
