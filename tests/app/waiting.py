"""How the library's pilot waits in these tests: for what is to be done, not for an idle processor.

Its own wait sleeps 40 ms a key at the least, and for as long as anything else keeps the process busy.
"""

import asyncio
from collections.abc import Callable
from time import monotonic

from textual.message_pump import MessagePump
from textual.pilot import Pilot
from textual.screen import Screen

#: Layouts that may follow each other: a list that opens, then the rows that it makes room for.
LAYOUTS = 2
#: Looks without a rest at whether something has been dealt with; what takes longer may be in a thread.
AT_ONCE = 100


async def at_once(_: float = 0.0) -> None:
    """Not wait after a key: the next one waits its turn in the app; stands for `wait_for_idle`."""


async def passed_by(pump: MessagePump, limit_s: float = 1.0) -> None:
    """Wait until the app, or its screen, has dealt with all messages that it has now."""
    passed, end, looks = asyncio.Event(), monotonic() + limit_s, 0
    if not pump.call_later(passed.set):
        return
    while not passed.is_set() and pump.is_running and monotonic() < end:
        looks += 1
        await asyncio.sleep(0.0 if looks < AT_ONCE else 0.002)


async def until_drawn(pilot: Pilot[object], layouts: int) -> None:
    """Wait until so many layouts are done, and until every widget has dealt with its messages."""
    for _ in range(layouts):
        await passed_by(pilot.app)
        await passed_by(pilot.app.screen)
        pilot.app.screen._on_timer_update()
    await pilot._wait_for_screen()


async def press(pilot: Pilot[object], *keys: str) -> None:
    """Press keys, and wait until all that they change is drawn; stands for `Pilot.press`."""
    await pilot.app._press_keys(keys)
    await until_drawn(pilot, LAYOUTS)


async def pause(pilot: Pilot[object], delay: float | None = None) -> None:
    """Wait so long, or until all is drawn, a start and what it offers too; stands for `Pilot.pause`."""
    if delay is not None:
        await asyncio.sleep(delay)
    await until_drawn(pilot, LAYOUTS + 1)


def only_in_a_terminal(draw: Callable[[Screen[object]], None]) -> Callable[[Screen[object]], None]:
    """Nobody sees what a headless app sends: tests ask the widgets, or have the whole screen drawn."""

    def refresh(screen: Screen[object]) -> None:
        if not screen.app.is_headless:
            draw(screen)

    return refresh
