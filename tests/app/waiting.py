"""How the library's pilot waits in these tests: for what is to be done, not for an idle processor.

Its own wait sleeps 40 ms a key at the least, and for as long as anything else keeps the process busy.
"""

import asyncio
from time import monotonic

from textual._context import active_app
from textual.pilot import Pilot

#: Layouts that may follow each other: a list that opens, then the rows that it makes room for.
LAYOUTS = 2
#: Looks without a rest at whether something has been dealt with; what takes longer may be in a thread.
AT_ONCE = 100


async def until_dealt_with(_: float = 0.0, limit_s: float = 1.0) -> None:
    """Wait until the app has dealt with all messages that it has now; stands for `wait_for_idle`."""
    app, passed, end, looks = active_app.get(), asyncio.Event(), monotonic() + limit_s, 0
    if not app.call_later(passed.set):
        passed.set()
    while not passed.is_set() and app.is_running and monotonic() < end:
        looks += 1
        await asyncio.sleep(0.0 if looks < AT_ONCE else 0.002)


async def until_drawn(pilot: Pilot[object], layouts: int) -> None:
    """Wait until the widgets have dealt with their messages, too, and so many layouts are done."""
    for _ in range(layouts):
        await until_dealt_with()
        await pilot._wait_for_screen()
        pilot.app.screen._on_timer_update()


async def press(pilot: Pilot[object], *keys: str) -> None:
    """Press keys one by one, and wait until all that they change is drawn; stands for `Pilot.press`."""
    await pilot.app._press_keys(keys)
    await until_drawn(pilot, LAYOUTS)


async def pause(pilot: Pilot[object], delay: float | None = None) -> None:
    """Wait so long, or until all is drawn, a start and what it offers too; stands for `Pilot.pause`."""
    if delay is not None:
        await asyncio.sleep(delay)
    await until_drawn(pilot, LAYOUTS + 1)
