"""What should I change? Asks for the goal and its limits, then searches."""

from dataclasses import replace
from typing import Final

from cogwright.app.controllers.limits import ask_limits
from cogwright.app.controllers.order import choose_bin, load_bin
from cogwright.app.controllers.registry import does
from cogwright.app.pickers.scene import Scene, each
from cogwright.app.state.opened import Key, ListKind, PickList, do
from cogwright.app.state.proposal_request import GoalKind
from cogwright.app.state.session import Session
from cogwright.app.state.store import SessionStore
from cogwright.core.common.safe_text import pad
from cogwright.present.lines import Line, Role, Span, line
from cogwright.present.panels.foot import FootKey

_KEYS: Final[dict[GoalKind, str]] = {"even": "e", "single": "s", "plan": "l"}
_NO_BIN: Final = "A plan chooses from a parts bin."


@does("proposals")
def proposals(store: SessionStore) -> None:
    """Ask for the goal; Enter repeats the one of the last time."""
    load_bin(store)
    goals = tuple(_KEYS)
    at = goals.index(store.session.request.kind)
    store.open(PickList(GOALS, "What should I change?", goals, at=at))


def _line(goal: GoalKind, scene: Scene) -> Line:
    name, what = _said(goal, scene.session)
    return line(Span(_KEYS[goal], Role.KEY), f"  {pad(name, 13)}", Span(what, Role.DIM))


def _said(goal: GoalKind, session: Session) -> tuple[str, str]:
    """What a goal is called, and what it chooses from."""
    bench, stock, request = session.bench, session.stock, session.request
    cogs, rings = bench.rear.cogs, len(bench.crank.rings)
    out_of = stock.name if stock and not request.all_counts else "all tooth counts"
    if goal == "even":
        pins = request.pinned(cogs)
        stay = f"; pinned: {' '.join(map(str, pins))}" if pins else ""
        return "even out", f"the steps of {cogs[0]}-{cogs[-1]}, out of {out_of}{stay}"
    if goal == "single":
        instead = f"in the place of {rings}" if rings > 1 else "another one"
        return "single ring", f"{instead}, out of {out_of}"
    return "plan", f"within limits, out of {stock.name if stock else 'a parts bin: none is chosen'}"


def _keys(scene: Scene) -> list[Key]:
    session = scene.session
    keys = [Key(key, "", do(_choose_by_key, goal)) for goal, key in _KEYS.items()]
    if session.cursor.where == "cog":
        pinned = session.cursor.teeth in session.request.pins
        keys.append(Key("p", f"{'free' if pinned else 'pin'} cog {session.cursor.teeth}", _pin))
    if session.stock is not None:
        word = "the bin only" if session.request.all_counts else "all tooth counts"
        keys.append(Key("a", word, turn_all_counts))
    return keys


def _pin(store: SessionStore) -> None:
    """Pin the chosen cog, or free it."""
    store.change(request=store.session.request.toggled(store.session.cursor.teeth))


def turn_all_counts(store: SessionStore) -> None:
    """Out of the bin, or out of all tooth counts."""
    request = store.session.request
    store.change(request=replace(request, all_counts=not request.all_counts))


def _choose_by_key(store: SessionStore, goal: GoalKind) -> None:
    store.close()
    _choose(store, goal, None)


def _choose(store: SessionStore, goal: GoalKind, _: None) -> None:
    store.change(request=replace(store.session.request, kind=goal))
    if goal != "plan":
        look_for(store)
    elif store.session.stock is not None:
        ask_limits(store, look_for)
    else:
        choose_bin(store)
        store.say(_NO_BIN)


def look_for(store: SessionStore) -> None:
    """Search for what the request asks, and show the list."""
    from cogwright.app.controllers.proposal_list import search_and_list

    search_and_list(store, _others(store.session))


def _others(session: Session) -> tuple[Key, ...]:
    """Keys of the list that begin another search."""
    if session.request.kind == "plan":
        return (Key("l", "limits", do(ask_limits, look_for)),)
    if session.stock is None:
        return ()
    return (Key("a", "bin only" if session.request.all_counts else "all counts", _turned),)


def _turned(store: SessionStore) -> None:
    turn_all_counts(store)
    look_for(store)


GOALS: Final = ListKind(
    each(_line), _choose, keys=_keys, foot=(FootKey("e s l", "or"), FootKey("Enter", "choose", "enter"))
)
