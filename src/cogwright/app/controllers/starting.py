"""Where there is nothing to open: a new bike, the demo, or another folder."""

from pathlib import Path

from cogwright.app.controllers.facts import begin_intake
from cogwright.app.controllers.leaving import leaving
from cogwright.app.controllers.registry import does
from cogwright.app.controllers.walking import Walk, walk
from cogwright.app.state.beginning import first_of
from cogwright.app.state.opened import Key, Question, do
from cogwright.app.state.store import SessionStore
from cogwright.core.common.errors import CogwrightError
from cogwright.core.common.safe_text import shown_name
from cogwright.store.demo import FOLDER, lay_out
from cogwright.store.shelf import setup_paths


def offer_start(store: SessionStore) -> None:
    """Ask what to begin with, where the folder has no setup and nothing else is asked."""
    session = store.session
    if session.over or session.document is not None or any(setup_paths(session.folder)):
        return
    text = f"There is no setup in {shown_name(str(store.session.folder))} yet."
    answers = (
        Key("n", "a new bike, fact by fact", begin_intake),
        Key("d", "the demo", do(leaving, _open_demo)),
        Key("f", "another folder", _find_folder),
    )
    store.open(Question("What would you like to begin with?", text, answers))


def _open_demo(store: SessionStore) -> None:
    folder = store.session.folder / FOLDER
    try:
        lay_out(folder)
    except CogwrightError as error:
        store.say(f"{error}.")
        return
    open_folder(store, folder)


@does("open-folder")
def _find_folder(store: SessionStore) -> None:
    """Walk to another folder of setups."""
    walk(store, "Open a folder", Walk(store.session.folder, (), do(_leave_for)))


def _leave_for(store: SessionStore, folder: Path) -> None:
    leaving(store, do(open_folder, folder))


def open_folder(store: SessionStore, folder: Path) -> None:
    """The first good setup of a folder on the bench; its shelf, bins and courses go with it."""
    try:
        begun = first_of(folder)
    except CogwrightError as error:
        store.say(f"{error}.")
        return
    store.change(folder=folder, shelf=(), stock=None, stock_path=None, course=None)
    store.replace(store.session.begun(begun.work, begun.message or f"Opened {shown_name(str(folder))}."))
