"""What the drawer can hold: choices, text to read, a line to type, a question with its answers."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Any

from cogwright.present.lines import Line, plain


@dataclass(frozen=True)
class Choice:
    """One row to choose: what is shown, what it stands for, and the words that a filter looks in."""

    shown: Line
    value: Any = None

    @property
    def words(self) -> str:
        """What a filter looks in."""
        return plain(self.shown).lower()


@dataclass(frozen=True)
class Content:
    """What a drawer holds. Which of the callbacks are set says what kind it is."""

    title: str
    choices: Sequence[Choice] = ()
    head: Sequence[Line] = ()
    pick: Callable[[Any], None] | None = None
    move: Callable[[Any], None] | None = None
    leave: Callable[[], None] | None = None
    typed: Callable[[str], str | None] | None = None
    answers: dict[str, Callable[[], None]] = field(default_factory=dict)
    value: str = ""
    filter: bool = False
    start: int = 0
    height: int = 12
    keys: str = ""
