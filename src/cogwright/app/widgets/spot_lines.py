"""Lines of which each cell can stand for something: the strip of rings and cogs, the keys in the foot."""

from collections.abc import Callable, Sequence
from typing import Any

from textual import events

from cogwright.app.colours import Colours
from cogwright.app.widgets.lines import Lines
from cogwright.present.spots import Spot, SpotLine, meant_at


class SpotLines(Lines):
    """Knows what lies under the pointer, and says so when that is clicked."""

    def __init__(self, chosen: Callable[[Any], None], id: str | None = None) -> None:
        super().__init__(id=id)
        self._chosen = chosen
        self._spots: tuple[Sequence[Spot], ...] = ()

    def show_spots(self, rows: Sequence[SpotLine], colours: Colours) -> None:
        """Show lines with their spots."""
        self._spots = tuple(row.spots for row in rows)
        self.show([row.line for row in rows], colours)

    def meant(self, x: int, y: int) -> Any:
        """What lies under a cell of it; None where nothing does."""
        return meant_at(self._spots[y], x) if y < len(self._spots) else None

    def on_click(self, event: events.Click) -> None:
        """A click on a spot chooses what that stands for."""
        meant = self.meant(event.x, event.y)
        if meant is not None:
            event.stop()
            self._chosen(meant)
