"""The library's panel of all keys, over the right end of the bench."""

from collections.abc import Callable
from typing import Any

from rich.table import Table
from textual.app import ComposeResult
from textual.widgets import KeyPanel

from cogwright.app.widgets.scroll_bar import bar_of
from cogwright.present.lines import Glyphs


class KeysBeside(KeyPanel):
    """Covers what stands there, and moves nothing."""

    DEFAULT_CSS = """
    KeysBeside {
        split: none; dock: right; layer: above; width: 44; max-width: 60%; height: 100%; align: left top;
        border: none; background: $background; scrollbar-size-vertical: 1; scrollbar-gutter: stable;
        scrollbar-color: $scrollbar !important; scrollbar-background: $background !important;
        scrollbar-color-hover: $scrollbar !important; scrollbar-color-active: $scrollbar !important;
    }
    KeysBeside BindingsTable > .bindings-table--key { color: $role-key !important; text-style: bold; }
    KeysBeside BindingsTable > .bindings-table--description { color: $foreground !important; }
    """

    def __init__(self, glyphs: Glyphs) -> None:
        super().__init__()
        self._glyphs = glyphs

    def compose(self) -> ComposeResult:
        """The library's, with a bar of ours, and with every word in full however narrow it is."""
        bar = self.vertical_scrollbar
        bar.renderer = bar_of(self._glyphs)  # type: ignore[misc] # as it says one may
        for table in super().compose():
            table.render = _folded(table.render)  # type: ignore[method-assign] # its class has no public name
            yield table


def _folded(render: Callable[[], Any]) -> Callable[[], Table]:
    """What draws the same table, with words that go on in the next row where the library would cut them."""

    def drawn() -> Table:
        table: Table = render()
        for column in table.columns:
            column.overflow = "fold"
        return table

    return drawn
