"""What scrolls where the store says: the mouse asks, and only the store's answer moves it."""

from collections.abc import Callable
from typing import Final

from textual import events
from textual.scrollbar import ScrollBar, ScrollDown, ScrollTo, ScrollUp

from cogwright.app.widgets.scroll_bar import bar_of
from cogwright.present.lines import Glyphs

#: Rows that the wheel scrolls by.
WHEEL: Final = 3


class Placed:
    """For a ScrollView. `scroll` is called with the first row that the mouse wants in sight."""

    scroll: Callable[[int], None]
    room = 1
    top = 0

    def show_bar(self, bar: ScrollBar, count: int, seen: int, glyphs: Glyphs) -> None:
        """The bar for so many rows, of which so many are seen."""
        bar.renderer = bar_of(glyphs)  # type: ignore[misc] # as it says one may
        bar.window_virtual_size, bar.window_size, bar.position = count, seen, self.top

    def validate_scroll_y(self, _: float) -> float:
        """The library may not scroll it."""
        return self.top

    def _ask(self, top: float, event: events.Event | ScrollTo | ScrollUp | ScrollDown) -> None:
        event.stop()
        event.prevent_default()
        self.scroll(round(top))

    def on_mouse_scroll_down(self, event: events.MouseScrollDown) -> None:
        """The wheel, over it."""
        self._ask(self.top + WHEEL, event)

    def on_mouse_scroll_up(self, event: events.MouseScrollUp) -> None:
        """The wheel, over it."""
        self._ask(self.top - WHEEL, event)

    def on_scroll_to(self, event: ScrollTo) -> None:
        """The thumb of the bar is drawn along."""
        self._ask(self.top if event.y is None else event.y, event)

    def on_scroll_down(self, event: ScrollDown) -> None:
        """A press below the thumb."""
        self._ask(self.top + max(self.room - 1, 1), event)

    def on_scroll_up(self, event: ScrollUp) -> None:
        """A press above the thumb."""
        self._ask(self.top - max(self.room - 1, 1), event)
