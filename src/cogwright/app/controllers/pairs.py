"""Pairs that need no tensioner for a wanted development; each shows on the bench while it is looked at."""

from collections.abc import Sequence
from itertools import islice
from typing import Final, NamedTuple

from cogwright.app.controllers.editing import edit
from cogwright.app.controllers.proposals import turn_all_counts
from cogwright.app.pickers.scene import MARK, Scene
from cogwright.app.state.opened import EntryKind, Key, ListKind, PickList, TextEntry, Typed
from cogwright.app.state.store import SessionStore
from cogwright.core.chain.slack import chain_of
from cogwright.core.common.numbers import number_in
from cogwright.core.drive.pairs import StayPair
from cogwright.core.parts.pairs_at_hand import one_to_one_m, pairs_at_hand
from cogwright.core.setup.edits import Become, with_sprockets
from cogwright.core.setup.model import Setup
from cogwright.present.lines import Line, line, told
from cogwright.present.views.drives import pair_legend, pair_table, stay_words

_NO_STAY: Final = "Which pairs go without a tensioner depends on the stay: F asks for it."
_BRIEFLY: Final = "mm is the chain's way up and down midway: up to 20 is right (common practice)."
#: From these heights of the screen there is room for what the columns mean, in full and in brief.
_HIGH, _LOW = 30, 20
#: No bike has such a development, m.
_MOST_M: Final = 30.0


class WantedPair(NamedTuple):
    """A development that is wanted, and that of one tooth for one tooth, m."""

    metres: float
    one_to_one: float


def goes_by_pairs(setup: Setup) -> bool:
    """Whether a bike has one ring, one cog, and nothing that takes up its chain."""
    return len(setup.crank.rings) == len(setup.rear.cogs) == 1 and not chain_of(setup).tensioned


def ask_pairs(store: SessionStore, suggested_m: float) -> None:
    """Ask which development is wanted, then list the pairs."""
    if store.session.bench.frame.chainstay_mm is None:
        store.say(_NO_STAY)
        return
    store.open(TextEntry(_WANTED, "Development wanted, m a turn", Typed.ready(f"{suggested_m:.2f}")))


def _list(store: SessionStore, text: str, _: None) -> str | None:
    try:
        wanted_m = number_in(text, 0.1)
    except ValueError:
        wanted_m = _MOST_M + 1.0
    if wanted_m > _MOST_M:
        return f"Type a number from 0.1 to {_MOST_M:g} m."
    if not _listed(store, wanted_m):
        return "No pair of the teeth at hand is right on this stay, new or worn."
    return None


def _listed(store: SessionStore, wanted_m: float) -> bool:
    """List the pairs for a development, if there are any."""
    session, bench = store.session, store.session.bench
    stay = bench.frame.chainstay_mm
    assert stay is not None
    found = pairs_at_hand(wanted_m, bench, stay, None if session.request.all_counts else session.stock)
    if not found:
        return False
    note = WantedPair(wanted_m, one_to_one_m(bench))
    store.open(PickList(PAIRS, f"Pairs for {wanted_m:.2f} m", found, note))
    _look_at(store, found[0], note)
    return True


def _rows(pairs: Sequence[StayPair], scene: Scene) -> list[Line]:
    return list(islice(_table(pairs, scene), 1, None))


def _head(scene: Scene) -> list[Line]:
    return [line(" " * (MARK - 1), row) for row in islice(_table(scene.values, scene), 1)]


def _table(pairs: Sequence[StayPair], scene: Scene) -> list[Line]:
    return pair_table(pairs, scene.look, scene.note.one_to_one, scene.note.metres)


def _about(_: StayPair, scene: Scene) -> list[Line]:
    on = f"On {stay_words(scene.session.bench)}."
    if scene.session.room.height >= _HIGH:
        return [*told(on, scene.look.width), *pair_legend(scene.look)]
    return told(f"{on} {_BRIEFLY}", scene.look.width)


def _about_room(height: int) -> int:
    return 4 if height >= _HIGH else 2 if height >= _LOW else 0


def _keys(scene: Scene) -> tuple[Key, ...]:
    if scene.session.stock is None:
        return ()
    return (Key("a", "bin only" if scene.session.request.all_counts else "all counts", _turned),)


def _turned(store: SessionStore) -> None:
    """The same out of all tooth counts, or out of the bin."""
    of = store.session.open
    assert isinstance(of, PickList)
    turn_all_counts(store)
    store.close()
    if not _listed(store, of.note.metres):
        store.open(of)
        store.say("No pair of the bin's teeth is right on this stay, new or worn.")


def _with(setup: Setup, pair: StayPair) -> Setup:
    return with_sprockets(with_sprockets(setup, "ring", (pair.ring,)), "cog", (pair.cog,))


def _look_at(store: SessionStore, pair: StayPair, _: WantedPair) -> None:
    looking = f"{pair.ring}x{pair.cog} with {pair.links} links"
    store.change(preview=_with(store.session.bench, pair), looking=looking)


def _leave(store: SessionStore, _: WantedPair) -> None:
    store.replace(store.session.unlooked())


def _take(store: SessionStore, pair: StayPair, wanted: WantedPair) -> None:
    _leave(store, wanted)
    name = f"{pair.ring}x{pair.cog}"
    edit(store, Become(_with(store.session.bench, pair), name))
    store.say(f"On the bench: {name}, with {pair.links} links of chain, right {pair.mark}.")


PAIRS: Final = ListKind(
    _rows, _take, _look_at, _leave, head=_head, about=_about, about_room=_about_room, keys=_keys, height=9
)
_WANTED: Final = EntryKind(_list)
