"""The bin's file written by its form: what others have changed stays, what would be lost is asked."""

from pathlib import Path

from cogwright.app.state.opened import Deed, Key, Question, do
from cogwright.app.state.store import SessionStore
from cogwright.core.common.errors import CogwrightError
from cogwright.core.common.safe_text import shown_name
from cogwright.core.parts.bin import Bin
from cogwright.present.lines import Role, Span
from cogwright.store.bin_updates import change_bin, lost_by_changing


class _ChangedElsewhere(CogwrightError):
    """The file has another bin than the one that was changed."""

    def __init__(self, path: Path, now: Bin) -> None:
        self.now = now
        super().__init__(f"{shown_name(path.name)} was changed elsewhere and is read again: do it once more")


def write_bin(store: SessionStore, changed: Bin, said: str, then: Deed) -> None:
    """Save another bin in the place of the one that is open, and go on with it.

    Where somebody else has changed the file meanwhile nothing is written; where comments of the file would be
    lost it is asked first. `said` is the message afterwards.
    """
    path, before = store.session.stock_path, store.session.stock
    assert path is not None
    assert before is not None
    change = do(_instead, before, changed, path)
    try:
        lost = lost_by_changing(path, change)
    except CogwrightError as error:
        _say(store, error)
        return
    save = do(_save, path, change, said, then)
    if lost:
        lines = tuple((Span(f"  {text}", Role.CAUTION),) for text in lost)
        answer = Key("s", "save all the same", save)
        store.open(Question("This cannot be kept in the bin's file", "", (answer,), lines))
    else:
        save(store)


def _instead(now: Bin, before: Bin, changed: Bin, path: Path) -> Bin:
    """The changed bin in the place of the one before. Raises _ChangedElsewhere where that is not there."""
    if now != before:
        raise _ChangedElsewhere(path, now)
    return changed


def _save(store: SessionStore, path: Path, change: Deed, said: str, then: Deed) -> None:
    try:
        stock = change_bin(path, change)
    except CogwrightError as error:
        _say(store, error)
        return
    store.change(stock=stock, message=said)
    then(store)


def _say(store: SessionStore, error: CogwrightError) -> None:
    if isinstance(error, _ChangedElsewhere):
        store.change(stock=error.now)
    store.say(f"{error}.")
