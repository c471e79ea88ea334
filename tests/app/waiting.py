"""How the library's pilot waits in these tests: for what is to be done, not for an idle processor.

Its own wait sleeps 40 ms a key at the least, and for as long as anything else keeps the process busy.
"""

import asyncio
from time import monotonic

from textual.app import App
from textual.pilot import Pilot
from textual.screen import Screen

#: So long anything may take until it is dealt with: only an app that has stopped takes so long, s.
LIMIT_S = 60.0


async def at_once(_: float = 0.0) -> None:
    """Not wait after a key: the next one waits its turn in the app; stands for `wait_for_idle`."""


async def at_rest(limit_s: float = LIMIT_S) -> None:
    """Wait until nothing here can go on: no message and no worker is left that waits for nothing else."""
    loop, end = asyncio.get_running_loop(), monotonic() + limit_s
    await asyncio.sleep(0)
    while loop._ready and monotonic() < end:  # type: ignore[attr-defined]
        await asyncio.sleep(0)


def is_to_be_drawn(screen: Screen[object]) -> bool:
    """Whether it has been asked for what it does when its clock ticks next, 60 times a second."""
    return bool(
        screen._layout_required
        or screen._scroll_required
        or screen._repaint_required
        or screen._recompose_required
        or screen._callbacks
    )


async def until_drawn(app: App[object]) -> None:
    """Wait until the app has dealt with all that it has now and that follows from it, and has drawn it."""
    passed, end = asyncio.Event(), monotonic() + LIMIT_S
    app.call_later(passed.set)
    while app.is_running and monotonic() < end:
        await at_rest()
        if is_to_be_drawn(app.screen):
            app.screen._on_timer_update()
        elif passed.is_set():
            return
        else:
            await asyncio.sleep(0.002)


async def press(pilot: Pilot[object], *keys: str) -> None:
    """Press keys, and wait until all that they change is drawn; stands for `Pilot.press`."""
    await pilot.app._press_keys(keys)
    await until_drawn(pilot.app)


async def pause(pilot: Pilot[object], delay: float | None = None) -> None:
    """Wait so long, or until all is drawn, a start and what it offers too; stands for `Pilot.pause`."""
    if delay is not None:
        await asyncio.sleep(delay)
    await until_drawn(pilot.app)


def nobody_looks(screen: Screen[object]) -> None:
    """Nobody sees what a headless app sends: tests ask the widgets, or have the whole screen drawn."""
    screen._dirty_widgets.clear()
    screen._compositor._dirty_regions.clear()
