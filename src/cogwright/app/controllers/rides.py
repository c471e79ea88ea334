"""Choose recorded rides to look at. They are kept as long as the program runs, and stored nowhere."""

from pathlib import Path
from typing import Final

from cogwright.app.controllers.asking import shown
from cogwright.app.controllers.reading import read_file
from cogwright.app.controllers.registry import does
from cogwright.app.pickers.scene import Scene, each
from cogwright.app.state.opened import MOVE, EntryKind, ListKind, PickList, TextEntry, do
from cogwright.app.state.store import SessionStore
from cogwright.app.views import RIDES
from cogwright.core.common.words import count
from cogwright.core.riding.evidence.evidence import evidence_of
from cogwright.core.riding.recording import Recording
from cogwright.core.setup.model import Setup
from cogwright.present.lines import Line, Role, Span, line
from cogwright.present.panels.foot import FootKey
from cogwright.present.plot import library
from cogwright.store.tracks.read import read_ride, ride_files
from cogwright.store.tracks.stream import Progress

_PATH, _NONE = "another file: type its path", "no rides"
Choice = Path | str


@does("rides")
def rides(store: SessionStore) -> None:
    """The rides of the folder, any other file, and none."""
    store.replace(store.session.looked(RIDES).scrolled(0))
    files: tuple[Choice, ...] = ride_files(store.session.folder)
    store.open(PickList(CHOICES, "Recorded rides: Enter takes one in or out", (*files, _PATH, _NONE)))


def _line(choice: Choice, scene: Scene) -> Line:
    if isinstance(choice, str):
        return (Span(f"  {choice}", Role.KEY),)
    there = _place(scene.session.rides, choice) is not None
    return line(f"{scene.look.glyphs.tick if there else ' '} ", shown(choice))


def _place(there: tuple[Recording, ...], path: Path) -> int | None:
    return next((at for at, ride in enumerate(there) if ride.file == str(path)), None)


def _take(store: SessionStore, choice: Choice, _: None) -> None:
    if choice == _PATH:
        store.open(TextEntry(_TYPED, "Path of a recorded ride"))
    elif isinstance(choice, str):
        store.change(rides=(), message="No rides.")
    else:
        _turn(store, choice)


def _turn(store: SessionStore, path: Path) -> None:
    """Take a ride in, or out if it is in."""
    there = store.session.rides
    at = _place(there, path)
    if at is None:
        _read(store, path)
    else:
        store.change(rides=(*there[:at], *there[at + 1 :]), message=f"{shown(path)} is out.")


def _read(store: SessionStore, path: Path) -> None:
    read_file(store, path, do(_found, store.session.ridden), _took, at_once=0)


def _found(path: Path, progress: Progress, ridden: Setup) -> Recording:
    """A ride whose gears have been found, which takes longer than reading it; and what draws its plot."""
    ride = read_ride(path, progress)
    evidence_of([ride], ridden)
    library()
    return ride


def _took(store: SessionStore, ride: Recording) -> None:
    store.change(rides=(*store.session.rides, ride))
    said = count(len(store.session.rides), "ride")
    store.say(f"{shown(Path(ride.file))}: {ride.length_m / 1000:.1f} km; {said} in all.")


def _typed(store: SessionStore, text: str, _: None) -> str | None:
    path = Path(text.strip()).expanduser()
    if not path.is_file():
        return "There is no such file."
    if _place(store.session.rides, path) is None:
        _read(store, path)
    return None


CHOICES: Final = ListKind(
    each(_line), _take, stays=True, foot=(MOVE, FootKey("Enter", "in or out", "enter")), height=6
)
_TYPED: Final = EntryKind(_typed)
