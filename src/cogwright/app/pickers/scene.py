"""What the functions of a list's kind are given to draw with."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from cogwright.app.state.opened import PickList
from cogwright.app.state.session import Session
from cogwright.present.lines import Line, Look

#: Cells before a row for the mark, and after it for the scroll bar.
MARK, BAR = 3, 1


@dataclass(frozen=True, slots=True)
class Scene:
    """The session, the room for a row (for what is said of one: all of that), what is listed."""

    session: Session
    look: Look
    note: Any = None
    values: Sequence[Any] = ()


def scene_of(session: Session, of: PickList) -> Scene:
    """The scene for the rows of a list."""
    return Scene(session, row_look(session), of.note, of.shown)


def row_look(session: Session) -> Look:
    """The room for one row of a list."""
    return session.room.of_width(max(session.room.width - MARK - BAR, 8))


class LazyRows(Sequence[Line]):
    """Lines that are drawn when they are first looked at: of a thousand files a screen shows twenty."""

    def __init__(self, values: Sequence[Any], draw: Callable[[Any], Line]) -> None:
        self._values, self._draw = values, draw
        self._drawn: dict[int, Line] = {}

    def __len__(self) -> int:
        return len(self._values)

    def __getitem__(self, at: Any) -> Any:
        """A line, or some of them."""
        if isinstance(at, slice):
            return [self[i] for i in range(*at.indices(len(self)))]
        if at not in self._drawn:
            self._drawn[at] = self._draw(self._values[at])
        return self._drawn[at]

    def __iter__(self) -> Iterator[Line]:
        return (self[at] for at in range(len(self)))


def each(draw: Callable[[Any, Scene], Line]) -> Callable[[Sequence[Any], Scene], LazyRows]:
    """The rows of a list whose values are drawn one by one."""
    return lambda values, scene: LazyRows(values, lambda value: draw(value, scene))
