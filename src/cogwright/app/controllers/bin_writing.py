"""The bin's file written: by its form, and wherever else a price or a count is typed."""

from cogwright.app.state.opened import Deed, Key, Question, do
from cogwright.app.state.store import SessionStore
from cogwright.core.common.errors import CogwrightError
from cogwright.core.common.safe_text import shown_name
from cogwright.core.parts.bin import Bin
from cogwright.present.lines import Role, Span
from cogwright.store.bins import lost_by_saving_bin, read_bin, save_bin
from cogwright.store.files import Stamp


def write_bin(store: SessionStore, changed: Bin, said: str, then: Deed | None = None) -> None:
    """Save another bin in the place of the one that is open, and go on with it.

    Where somebody else has changed the file meanwhile nothing is written; where comments of the file would be
    lost it is asked first. `said` is the message afterwards.
    """
    path, before = store.session.stock_path, store.session.stock
    if path is None or before is None:
        store.say("No parts bin is open: B chooses one.")
        return
    try:
        there = read_bin(path)
        if there.value != before:
            store.change(stock=there.value)
            store.say(f"{shown_name(path.name)} was changed elsewhere and is read again: do it once more.")
            return
        lost = lost_by_saving_bin(path, changed, there.stamp)
    except CogwrightError as error:
        store.say(f"{error}.")
        return
    if lost:
        answer = Key("s", "save all the same", do(_save, changed, there.stamp, said, then))
        lines = tuple((Span(f"  {text}", Role.CAUTION),) for text in lost)
        store.open(Question("This cannot be kept in the bin's file", "", (answer,), lines))
        return
    _save(store, changed, there.stamp, said, then)


def _save(store: SessionStore, changed: Bin, over: Stamp, said: str, then: Deed | None) -> None:
    path = store.session.stock_path
    assert path is not None
    try:
        document = save_bin(path, changed, over)
    except CogwrightError as error:
        store.say(f"{error}.")
        return
    store.change(stock=document.value, message=said)
    if then is not None:
        then(store)
