"""What tests of the app use: the screen as a user reads it and what is open, from public widgets alone."""

import asyncio
from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import Any

from rich.cells import cell_len
from textual import events
from textual.app import App
from textual.geometry import Region
from textual.pilot import Pilot
from textual.screen import Screen
from textual.widget import Widget

from cogwright.app.main import BenchApp
from cogwright.present.panels.screen import WIDE

#: So long anything may take until it is dealt with: an app that has stopped never does, s.
LONGEST_S = 60.0


def rows(app: BenchApp) -> list[str]:
    """The rows of the screen as they are drawn, the topmost screen over those below it."""
    width, height = app.size
    cells = [[" "] * width for _ in range(height)]
    for screen in app.screen_stack:
        for widget in _seen(screen):
            _paint(widget, cells)
    return ["".join(row) for row in cells]


def _seen(screen: Screen[object]) -> Iterator[Widget]:
    """What takes room on it, those that hold others before these."""
    for widget in screen.walk_children(Widget):
        if widget.region and widget.display and widget.visible:
            yield widget


def _paint(widget: Widget, cells: list[list[str]]) -> None:
    """Put what a widget draws into cells."""
    region = widget.region
    for y, strip in enumerate(widget.render_lines(Region(0, 0, *region.size)), region.y):
        drawn = _cells(strip.text)
        if 0 <= y < len(cells):
            cells[y][region.x : region.x + len(drawn)] = drawn


@lru_cache(maxsize=4096)  # most rows are drawn again and again
def _cells(row: str) -> Sequence[str]:
    """A row, what stands in each of its cells: the second one of a wide character is empty."""
    drawn: list[str] = []
    for char in row:
        wide = cell_len(char)
        if wide:
            drawn += [char, *[""] * (wide - 1)]
        elif drawn:
            drawn[-1] += char
    return drawn


def text(app: BenchApp) -> str:
    """The screen as one text."""
    return "\n".join(row.rstrip() for row in rows(app))


def type_keys(app: App[Any], *keys: str) -> None:
    """Keys as they come from the terminal, without the wait after each that the pilot makes."""
    for key in keys:
        app.post_message(events.Key(key, key if len(key) == 1 else None))


async def dealt_with(app: App[Any]) -> None:
    """All keys dealt with; and then the drawing that followed."""
    for _ in range(2):
        passed = asyncio.Event()
        app.call_later(passed.set)
        await asyncio.wait_for(passed.wait(), LONGEST_S)


async def plotted(pilot: Pilot[int]) -> None:
    """Wait for what a wide screen imports after its first frame."""
    app = pilot.app
    assert isinstance(app, BenchApp)
    while app.size.width >= WIDE and not app.store.session.plots:
        await pilot.pause(0.02)
    await pilot.pause()


def words(app: BenchApp) -> str:
    """All that the user can read now, line breaks aside."""
    return " ".join(text(app).split())


def is_open(app: BenchApp) -> bool:
    """Whether anything stands open over the bench."""
    return bool(app.store.session.over)


def listed(app: BenchApp) -> Sequence[object]:
    """The values of the list that is open, those that are left of what was typed."""
    values: Sequence[object] = getattr(app.store.session.open, "shown", ())
    return values
