"""What the drawer can hold: choices, text to read, a line to type, a question with its answers."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from cogwright.present.lines import Line, Look, plain


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
    """What a drawer holds. Which of the callbacks are set says what kind it is.

    `about` gives lines about the chosen value, for which `about_room` rows are kept below the choices;
    `least` rows are taken even when there is less to show. `sideways` is called with -1 or 1 for Left, Right;
    `fitted` makes the content anew for a screen of another width; `stays` are keys that leave it open.
    """

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
    least: int = 3
    keys: str = ""
    about: Callable[[Any, Look], Sequence[Line]] | None = None
    about_room: int = 0
    sideways: Callable[[int], None] | None = None
    fitted: Callable[[], "Content"] | None = None
    stays: Mapping[str, Callable[[], None]] = field(default_factory=dict)

    @property
    def takes_text(self) -> bool:
        """Whether there is a line for text."""
        return self.filter or self.typed is not None
