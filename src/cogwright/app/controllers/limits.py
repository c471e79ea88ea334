"""The limits of a plan: a list of them, each to be typed, and the row that searches."""

from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING, Final, cast

from cogwright.app.pickers.scene import Scene, each
from cogwright.app.state.opened import MOVE, EntryKind, Key, ListKind, PickList, TextEntry, Typed
from cogwright.app.state.proposal_request import LIMITS, PlanLimit, first_limits
from cogwright.app.state.session import Session
from cogwright.app.state.store import SessionStore
from cogwright.core.common.numbers import number_in, written
from cogwright.core.common.safe_text import pad
from cogwright.core.riding.needed import GRADES, Climb, needed_for, top_development
from cogwright.core.setup.model import Setup
from cogwright.present.lines import Line, Role, Span, line
from cogwright.present.panels.foot import FootKey

if TYPE_CHECKING:
    from cogwright.core.proposing.goal import Goal

BeginSearch = Callable[[SessionStore], None]


def ask_limits(store: SessionStore, search: BeginSearch) -> None:
    """All limits; `search` is what follows."""
    session = store.session
    base = session.baseline.setup if session.baseline else None
    goal = session.request.limits or first_limits(session.bench, base)
    store.change(request=replace(session.request, limits=goal))
    store.open(PickList(ALL_LIMITS, "Plan: the limits", (*LIMITS, None), search, at=len(LIMITS)))


def _goal(session: Session) -> "Goal":
    return cast("Goal", session.request.limits)


def _unit(session: Session, limit: PlanLimit) -> str:
    return limit.unit or (session.stock.currency if session.stock else "")


def _line(limit: PlanLimit | None, scene: Scene) -> Line:
    if limit is None:
        return (Span("search within these limits", Role.KEY),)
    value = getattr(_goal(scene.session), limit.field)
    if value is None:
        return line(pad(limit.name, 36), Span("no limit", Role.DIM))
    return line(pad(limit.name, 36), f"{written(value)} {_unit(scene.session, limit)}")


def _head(scene: Scene) -> list[Line]:
    from cogwright.core.proposing.options import unpriced

    names = unpriced(scene.session.stock) if scene.session.stock else ()
    return [(Span(f" left out, no price: {', '.join(names)}", Role.DIM),)] if names else []


def _take(store: SessionStore, limit: PlanLimit | None, _: BeginSearch) -> None:
    if limit is None:
        _search(store)
        return
    value = getattr(_goal(store.session), limit.field)
    title = f"{limit.name}, {_unit(store.session, limit)}"
    store.open(TextEntry(_LIMIT, title, Typed.ready(written(value)), limit))


def _search(store: SessionStore) -> None:
    asked = store.session.open
    assert isinstance(asked, PickList)
    store.close()
    asked.note(store)


def _keys(_: Scene) -> tuple[Key, ...]:
    return (Key("l", "search", _search),)


def _limit_head(scene: Scene) -> list[Line]:
    asks = scene.note.asks
    return [(Span(f" {asks[0].upper()}{asks[1:]}; empty for no limit.", Role.DIM),)]


def _take_limit(store: SessionStore, text: str, limit: PlanLimit) -> str | None:
    try:
        value = _in_metres(text, limit, store.session.bench) if text.strip() else None
    except ValueError:
        return f"Type {limit.asks}, or nothing for no limit."
    goal = replace(_goal(store.session), **{limit.field: value})
    store.change(request=replace(store.session.request, limits=goal))
    return None


def _in_metres(text: str, limit: PlanLimit, bench: Setup) -> float:
    """A limit as typed: a grade for the lowest gear and a speed for the highest become metres."""
    words = text.strip().lower()
    if limit.field == "low_at_most_m" and words.endswith("%"):
        grade = number_in(words.removesuffix("%"), GRADES[0])
        return needed_for(Climb(min(grade, GRADES[1])), bench).development_m
    if limit.field == "high_at_least_m" and words.endswith("km/h"):
        return top_development(number_in(words.removesuffix("km/h"), 1.0), bench.rider)
    return number_in(text, limit.least)


ALL_LIMITS: Final = ListKind(
    each(_line),
    _take,
    head=_head,
    keys=_keys,
    stays=True,
    foot=(MOVE, FootKey("Enter", "change, or search", "enter")),
)
_LIMIT: Final = EntryKind(_take_limit, _limit_head)
