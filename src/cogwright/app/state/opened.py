"""What can stand open over the bench, as plain values: the store keeps them, the topmost gets the keys.

A value says what is there and where in it the user is; its kind, a constant beside the controller that opens
it, says how it looks and what choosing does.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any, Final

from cogwright.present.lines import Line
from cogwright.present.panels.foot import FootKey

if TYPE_CHECKING:
    from cogwright.core.shifting.drill import Drill

#: What a key or a choice does. It is given the store first.
Deed = Callable[..., Any]


@dataclass(frozen=True, slots=True)
class Do:
    """A function with what it is given last. Unlike a partial it equals another one of the same."""

    of: Deed
    last: tuple[Any, ...] = ()

    def __call__(self, *first: Any) -> Any:
        """Call it with these first."""
        return self.of(*first, *self.last)


def do(of: Deed, *last: Any) -> Do:
    """The function, to be called with what it is given then and after that these."""
    return Do(of, last)


@dataclass(frozen=True, slots=True)
class Typed:
    """A line of text being typed, and before which character the next one goes.

    With `fresh` nobody has touched it yet: what is typed takes its place.
    """

    text: str = ""
    at: int = 0
    fresh: bool = False

    @classmethod
    def ready(cls, text: str) -> "Typed":
        """A text to begin with: typing replaces it, an arrow goes into it."""
        return cls(text, len(text), bool(text))


@dataclass(frozen=True, slots=True)
class Key:
    """A further key of a list, what it is called in the list's foot, and what it does."""

    key: str
    word: str
    deed: Deed


MOVE: Final = FootKey("Up Down", "move")
TAKE: Final = FootKey("Enter", "take", "enter")
#: The way back out of everything that can stand open, in the words of every foot.
BACK: Final = FootKey("Esc F10", "back", "escape")
#: The keys of the list of all actions.
FINDING: Final = (MOVE, FootKey("Enter", "do it"), BACK, FootKey("type", "to find"))


@dataclass(frozen=True, slots=True)
class ListKind:
    """How lists of one kind look and what choosing in them does.

    `rows` draws all values, `head` what stands over them, `about` says more of the marked one in the rows
    that `about_room` keeps for it on a screen of a height; these and `keys` are given the list's scene (see
    `pickers`). `take` does what Enter means, with the list closed unless it `stays`; `look_at` is called for
    each value that the mark comes to, `leave` when nothing is taken; all with the store, then the value, if
    there is one, then the list's `note`. `words` makes a list that typing narrows: the words typed are looked
    for in what it gives. Where what is typed is a value itself, `made` gives that one, or those that it
    names; None where the words are to be looked for. A list takes up to `height` rows, or a `share` of the
    screen, and at least `least`. One `beside_chart` is looked at with the bench: the ends of the chart stay.
    """

    rows: Callable[..., Sequence[Line]]
    take: Deed
    look_at: Deed | None = None
    leave: Deed | None = None
    words: Callable[[Any], str] | None = None
    made: Callable[[str, Any, Sequence[Any]], Sequence[Any] | None] | None = None
    nothing: str = "nothing holds these words"
    head: Callable[..., Sequence[Line]] | None = None
    about: Callable[..., Sequence[Line]] | None = None
    about_room: Callable[[int], int] = lambda _: 0
    keys: Callable[..., Sequence[Key]] = lambda _: ()
    stays: bool = False
    foot: tuple[FootKey, ...] = (MOVE, TAKE)
    height: int = 12
    share: float = 0.0
    least: int = 3
    beside_chart: bool = False

    def most(self, room: int) -> int:
        """Rows that it may take of a screen of so many."""
        return max(self.height, int(self.share * room))


@dataclass(frozen=True)
class PickList:
    """Values to choose from. `note` is what else its kind's functions need to know."""

    kind: ListKind
    title: str
    values: tuple[Any, ...]
    note: Any = None
    at: int = 0
    top: int = 0
    typed: Typed = Typed()

    @cached_property
    def shown(self) -> tuple[Any, ...]:
        """Those values that hold every word typed."""
        wanted, words = self.typed.text.lower().split(), self.kind.words
        if words is None or not wanted:
            return self.values
        made = self.kind.made(self.typed.text, self.note, self.values) if self.kind.made else None
        if made is not None:
            return tuple(made)
        return tuple(value for value in self.values if all(word in words(value).lower() for word in wanted))

    @property
    def narrows(self) -> bool:
        """Whether typing narrows it."""
        return self.kind.words is not None


@dataclass(frozen=True, slots=True)
class EntryKind:
    """What a typed text is for. `accept` is given store, text and note; it says why not, or does it: None."""

    accept: Deed
    head: Callable[..., Sequence[Line]] | None = None


@dataclass(frozen=True, slots=True)
class TextEntry:
    """One line to type."""

    kind: EntryKind
    title: str
    typed: Typed = Typed()
    note: Any = None


@dataclass(frozen=True, slots=True)
class FormKind:
    """How forms of one kind look and what an answer does; `note` is what else these need to know.

    `fields` gives a session's fields, `row` draws one in a scene, `begin` is what stands in its line first,
    `take` is given store, text, field and note and says why not, or does it: None. `about` says more of the
    marked one, `leave` is called when the form is closed.
    """

    fields: Callable[..., Sequence[Any]]
    row: Callable[..., Line]
    begin: Callable[..., str]
    take: Deed
    about: Callable[..., Sequence[Line]]
    leave: Deed | None = None


@dataclass(frozen=True, slots=True)
class Form:
    """Facts one below another, the marked one with a line to type in."""

    kind: FormKind
    title: str
    note: Any = None
    typed: Typed = Typed()
    at: int = 0
    top: int = 0


@dataclass(frozen=True, slots=True)
class Question:
    """A question with the keys that answer it; `more` are lines that are shown as they are."""

    title: str
    text: str
    answers: tuple[Key, ...]
    more: tuple[Line, ...] = ()
    top: int = 0


@dataclass(frozen=True, slots=True)
class Reading:
    """Text to read, over up to a `share` of the screen; `lines` makes it for a session and a room."""

    title: str
    lines: Callable[..., Sequence[Line]]
    share: float = 1.0
    top: int = 0


@dataclass(frozen=True, slots=True)
class Drilling:
    """The shifting drill: what is asked, what has been shifted, the score."""

    drill: "Drill"


@dataclass(frozen=True, slots=True)
class ActionSearch:
    """The list of all actions, in which the library searches."""


Opened = PickList | TextEntry | Form | Question | Reading | Drilling | ActionSearch

#: Those that show a line of text being typed.
TAKES_TEXT: Final = (PickList, TextEntry, Form)
