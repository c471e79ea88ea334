"""Pairs that need no tensioner for a wanted development; each shows on the bench while it is looked at."""

from collections.abc import Sequence
from itertools import islice
from typing import Final, NamedTuple

from cogwright.app.controllers.editing import edit
from cogwright.app.pickers.scene import MARK, Scene
from cogwright.app.state.opened import EntryKind, ListKind, PickList, TextEntry, Typed
from cogwright.app.state.store import SessionStore
from cogwright.core.chain.slack import chain_of
from cogwright.core.common.numbers import number_in
from cogwright.core.drive.pairs import StayPair
from cogwright.core.parts.pairs_at_hand import one_to_one_m, pairs_at_hand
from cogwright.core.setup.edits import Become, with_sprockets
from cogwright.core.setup.model import Setup
from cogwright.present.lines import Line, line
from cogwright.present.views.drives import pair_legend, pair_table

_NO_STAY: Final = "Which pairs go without a tensioner depends on the stay: F asks for it."
#: No bike has such a development, m.
_MOST_M: Final = 30.0


class Wanted(NamedTuple):
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
    bench = store.session.bench
    stay = bench.frame.chainstay_mm
    assert stay is not None
    found = pairs_at_hand(wanted_m, bench, stay, store.session.stock)
    if not found:
        return "No pair of the teeth at hand is right on this stay, new or worn."
    title = f"For {wanted_m:.2f} m on a stay of {stay:g} mm, without a tensioner"
    note = Wanted(wanted_m, one_to_one_m(bench))
    store.open(PickList(PAIRS, title, found, note))
    _look_at(store, found[0], note)
    return None


def _rows(pairs: Sequence[StayPair], scene: Scene) -> list[Line]:
    return list(islice(_table(pairs, scene), 1, None))


def _head(scene: Scene) -> list[Line]:
    return [line(" " * (MARK - 1), row) for row in islice(_table(scene.values, scene), 1)]


def _table(pairs: Sequence[StayPair], scene: Scene) -> list[Line]:
    return pair_table(pairs, scene.look, scene.note.one_to_one, scene.note.metres)


def _about(_: StayPair, scene: Scene) -> list[Line]:
    return pair_legend(scene.look)


def _with(setup: Setup, pair: StayPair) -> Setup:
    return with_sprockets(with_sprockets(setup, "ring", (pair.ring,)), "cog", (pair.cog,))


def _look_at(store: SessionStore, pair: StayPair, _: Wanted) -> None:
    looking = f"{pair.ring}x{pair.cog} with {pair.links} links"
    store.change(preview=_with(store.session.bench, pair), looking=looking)


def _leave(store: SessionStore, _: Wanted) -> None:
    store.replace(store.session.unlooked())


def _take(store: SessionStore, pair: StayPair, wanted: Wanted) -> None:
    _leave(store, wanted)
    name = f"{pair.ring}x{pair.cog}"
    edit(store, Become(_with(store.session.bench, pair), name))
    store.say(f"On the bench: {name}, with {pair.links} links of chain, right {pair.mark}.")


PAIRS: Final = ListKind(
    _rows, _take, _look_at, _leave, head=_head, about=_about, about_room=lambda _: 3, height=9
)
_WANTED: Final = EntryKind(_list)
