"""The shifting drill: the question and the score, and the keys that shift."""

from collections.abc import Mapping

from cogwright.app.pickers.drawer_frame import DrawerFrame, Wanted, drawer_frame
from cogwright.app.pickers.pick_list import LEAVING
from cogwright.app.state.opened import BACK, Drilling
from cogwright.app.state.session import Session
from cogwright.app.state.store import SessionStore
from cogwright.core.setup.model import Setup
from cogwright.core.shifting.drill import Drill
from cogwright.present.panels.foot import FootKey
from cogwright.present.views.shifting import drill_page

#: Rows round the question: the head of the screen, the title and two lines of keys.
_AROUND = 7


def drill_frame(session: Session, of: Drilling) -> DrawerFrame:
    """The drill as lines."""
    look = session.room
    page = drill_page(of.drill, look.narrower(4).of_height(look.height - _AROUND))
    return drawer_frame(
        Wanted("Shifting drill", look, rows=page.rows, keys=_keys(session.bench), most=14, least=12)
    )


def _keys(bench: Setup) -> list[FootKey]:
    hub = len(bench.rear.cogs) > 1 and len(bench.rear.hub_ratios) > 1
    return [
        FootKey("Right", "harder", "right"),
        FootKey("Left", "easier", "left"),
        *[FootKey("Up Down", "front")] * (len(bench.crank.rings) > 1),
        *[FootKey("PgUp PgDn", "hub")] * hub,
        FootKey("Enter", "shift", "enter"),
        FootKey("Backspace", "clear", "backspace"),
        BACK,
    ]


def press_in_drill(store: SessionStore, of: Drilling, key: str) -> None:
    """A key while the drill is the topmost."""
    if key in LEAVING or key == "q":
        store.replace(store.session.popped().say(""))
    elif key in (moves := moves_of(of.drill, store.session.bench)):
        store.replace(store.session.swapped(Drilling(moves[key])))


def moves_of(now: Drill, bench: Setup) -> Mapping[str, Drill]:
    """What each key makes of the drill: only the shifters that there are can be moved."""
    one_cog = len(bench.rear.cogs) == 1
    moves = {
        "right": now.shift(hub=1) if one_cog else now.shift(rear=1),
        "left": now.shift(hub=-1) if one_cog else now.shift(rear=-1),
        "backspace": now.clear(),
    }
    if len(now.levers.rings) > 1:
        moves |= {"up": now.shift(front=1), "down": now.shift(front=-1)}
    if len(now.levers.hubs) > 1:
        moves |= {"pageup": now.shift(hub=1), "pagedown": now.shift(hub=-1)}
    return moves | ({"enter": now.answer()} if now.pressed else {})
