"""A search that runs while the app goes on: its list grows, and what is looked at in it shows on the bench.

The search has a thread; what it finds is handed to the app whole. The thread ends within one step, some
hundredths of a second, once its list stands open no more.
"""

import sys
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import count
from time import monotonic
from typing import Final

from cogwright.app.controllers.candidates import keep_setup
from cogwright.app.controllers.editing import edit
from cogwright.app.controllers.proposal_search import Search, search
from cogwright.app.controllers.views import turn_page
from cogwright.app.pickers.scene import Scene
from cogwright.app.state.opened import TAKE, Deed, Key, ListKind, PickList, Reading, do
from cogwright.app.state.session import Session
from cogwright.app.state.store import SessionStore
from cogwright.core.proposing.progress import Progress
from cogwright.core.proposing.proposal import Proposal
from cogwright.present.lines import Line, Look, line, wrap
from cogwright.present.panels.foot import FootKey
from cogwright.present.panels.proposal_reasons import brief_lines, reason_lines
from cogwright.present.panels.proposals import list_head, list_rows
from cogwright.present.panels.search_words import SearchState, search_title

#: Partial results come no closer than this, and take no more than a fifth of the thread's time.
EVERY_S: Final = 0.25
_SHARE: Final = 4
#: How long the search may keep the interpreter from the app that waits for it; Python's own 5 ms, which a
#: key meets several times on its way to the screen, is felt.
_SWITCH_S: Final = 0.0005
#: From this height of the screen there is room for more about a proposal.
_HIGH: Final = 30
_ROWS: Final = 11
BEATEN: Final = "beaten since"
_NUMBERS: Final = count(1)


@dataclass(frozen=True, slots=True)
class Searching:
    """A list's note: which search it shows, how far that is, and what leaving brings back.

    Once the user has moved in the list (`touched`), what he looks at stays chosen.
    """

    number: int
    sought: SearchState
    nothing: str
    others: tuple[Key, ...]
    tops: Mapping[int, int]
    message: str
    touched: bool = False


def search_and_list(store: SessionStore, others: tuple[Key, ...]) -> None:
    """Open the list and begin to search; what was said last has nothing to do with it."""
    session, wanted = store.session, search(store.session)
    sought = SearchState(wanted.kind, wanted.source)
    note = Searching(next(_NUMBERS), sought, wanted.nothing, others, session.tops, session.message)
    store.replace(session.say("").pushed(_listed(note, ())))
    sys.setswitchinterval(_SWITCH_S)
    store.host.in_thread(lambda ended: _run(store, wanted, note.number, ended))


def _listed(note: Searching, proposals: Sequence[Proposal], at: int = 0, top: int = 0) -> PickList:
    kind = FOUND if note.sought.finished else LOOKING
    return PickList(kind, search_title(note.sought), tuple(proposals), note, at, top)


# In the thread


def _run(store: SessionStore, wanted: Search, number: int, ended: Callable[[], bool]) -> None:
    due = monotonic() + EVERY_S
    for step in wanted.steps():
        if ended() or _place(store.session, number) is None:
            return
        if step.finished or monotonic() >= due:
            began = monotonic()
            sought, proposals = _found_at(wanted, step)
            due = monotonic() + max(EVERY_S, _SHARE * (monotonic() - began))
            store.host.hand_over(do(take_found, store, number, sought, proposals))


def _found_at(wanted: Search, step: Progress) -> tuple[SearchState, tuple[Proposal, ...]]:
    proposals = wanted.order(step.proposals())
    return SearchState(
        wanted.kind, wanted.source, step.done, step.total, len(proposals), step.meets
    ), proposals


def _place(session: Session, number: int) -> int | None:
    """Where in the stack the list of a search stands; None once it has been left."""
    for at, opened in enumerate(session.over):
        if isinstance(opened, PickList) and getattr(opened.note, "number", None) == number:
            return at
    return None


# With the app


def take_found(store: SessionStore, number: int, sought: SearchState, proposals: Sequence[Proposal]) -> None:
    """Show what was found, if anybody still looks at the list."""
    session = store.session
    place = _place(session, number)
    if place is None:
        return
    before = session.over[place]
    assert isinstance(before, PickList)
    note = replace(before.note, sought=sought)
    kept, at = keep_chosen(before.values, before.at, proposals) if note.touched else (tuple(proposals), 0)
    listed = _listed(note, kept, at, before.top)
    store.change(over=(*session.over[:place], listed, *session.over[place + 1 :]))
    _show(store, listed.values[at] if listed.values else None)


def keep_chosen(
    before: Sequence[Proposal], at: int, found: Sequence[Proposal]
) -> tuple[tuple[Proposal, ...], int]:
    """What is found now, with the one chosen before; if that is none any more it stays, and says so."""
    if not before:
        return tuple(found), 0
    chosen = before[at]
    for place, one in enumerate(found):
        if one.setup == chosen.setup:
            return tuple(found), place
    at = min(at, len(found))
    beaten = replace(chosen, marks=(BEATEN,), reasons=("something better has been found since",))
    return (*found[:at], beaten, *found[at:]), at


def _show(store: SessionStore, chosen: Proposal | None) -> None:
    session = store.session
    if chosen is None:
        store.replace(session.unlooked().say(""))
    elif chosen.setup != session.preview:
        store.change(preview=chosen.setup, looking=chosen.title)


def _look_at(store: SessionStore, one: Proposal, _: Searching) -> None:
    _touch(store)
    _show(store, one)


def _touch(store: SessionStore) -> None:
    of = store.session.open
    assert isinstance(of, PickList)
    store.replace(store.session.swapped(replace(of, note=replace(of.note, touched=True))))


def _leave(store: SessionStore, note: Searching) -> None:
    """The bench shows again as far scrolled as before."""
    store.replace(replace(store.session.unlooked(), tops=note.tops, message=note.message))


def _take(store: SessionStore, one: Proposal, note: Searching) -> None:
    """Take a proposal onto the bench, and say what to mind."""
    _leave(store, note)
    if one.setup == store.session.bench:
        store.say("The bench stays as it is: that is what this proposal says.")
        return
    edit(store, one.edit())
    if one.problems:
        store.say(f"On the bench: {one.title}. It does not fit: {'; '.join(one.problems)}.")
    elif one.notes:
        store.say(f"On the bench: {one.title}. Mind: {'; '.join(one.notes)}.")


def _keys(scene: Scene) -> list[Key]:
    others = [Key(key.key, key.word, do(_other, key.deed)) for key in scene.note.others]
    chart = [Key("left", "", do(turn_page, -1)), Key("right", "", do(turn_page, 1))]
    return (
        [*chart, Key("w", "why", _why), Key("C", "keep", _keep), *others]
        if scene.note.sought.found
        else others
    )


def _other(store: SessionStore, then: Deed) -> None:
    """Leave the list, then begin something else."""
    of = store.session.open
    assert isinstance(of, PickList)
    store.close()
    _leave(store, of.note)
    then(store)


def _keep(store: SessionStore) -> None:
    """The chosen proposal as a candidate, without taking it on."""
    _touch(store)
    of = store.session.open
    assert isinstance(of, PickList)
    keep_setup(store, of.shown[of.at].setup)


def _why(store: SessionStore) -> None:
    """All that is to be said of the chosen proposal; the search goes on meanwhile."""
    of = store.session.open
    assert isinstance(of, PickList)
    _touch(store)
    one = of.shown[of.at]
    store.open(Reading(one.title, do(_reasons, one), share=1 / 2))


def _reasons(_: Session, look: Look, one: Proposal) -> list[Line]:
    return reason_lines(one, look)[1:]


def _rows(proposals: Sequence[Proposal], scene: Scene) -> list[Line]:
    return list_rows(proposals, _wider(scene.look))


def _wider(look: Look) -> Look:
    """What draws the rows leaves two cells for a mark, which the list has already."""
    return look.narrower(-2)


def _head(scene: Scene) -> list[Line]:
    note, values = scene.note, scene.values
    if values:
        return [line("   ", list_head(values, _wider(scene.look)))]
    text = note.nothing if note.sought.finished else "Looking."
    return [line(" ", each) for each in wrap(text, scene.look.width)]


def _about(one: Proposal, scene: Scene) -> list[Line]:
    return brief_lines(one, scene.look)


LOOKING: Final = ListKind(
    _rows,
    _take,
    _look_at,
    _leave,
    head=_head,
    about=_about,
    about_room=lambda height: 3 if height < _HIGH else 5,
    keys=_keys,
    foot=(FootKey("Up Down", "look"), FootKey("Left Right", "chart"), TAKE),
    height=_ROWS,
    share=2 / 5,
    least=_ROWS,
)
FOUND: Final = replace(LOOKING, least=3)
