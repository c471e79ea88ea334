"""Choose recorded rides to look at. They are kept as long as the program runs, and stored nowhere."""

import os
from dataclasses import replace
from pathlib import Path
from typing import Final

from cogwright.app.controllers.asking import shown
from cogwright.app.controllers.reading import read_file
from cogwright.app.controllers.registry import does
from cogwright.app.controllers.walking import Walk, offer_folder, walk
from cogwright.app.pickers.scene import Scene, each
from cogwright.app.state.opened import MOVE, ListKind, PickList, do
from cogwright.app.state.session import Session
from cogwright.app.state.store import SessionStore
from cogwright.app.views import RIDES
from cogwright.core.common.words import count
from cogwright.core.riding.evidence.evidence import ridden_on
from cogwright.core.riding.recording import Recording
from cogwright.present.lines import Line, Role, Span, line
from cogwright.present.panels.foot import FootKey
from cogwright.present.plot import library
from cogwright.store.tracks.read import ENDINGS, FOLDER, read_ride, ride_files
from cogwright.store.tracks.stream import ReadProgress

_ELSEWHERE, _NONE = "a file elsewhere", "no rides"
#: A row of the list: a file, or one of these words.
RideRow = Path | str


@does("rides")
def rides(store: SessionStore) -> None:
    """The rides of the folder and those that are in, any other file, and none."""
    store.replace(store.session.looked(RIDES).scrolled(0))
    rows = _rows(store.session)
    if len(rows) > len((_ELSEWHERE, _NONE)):
        store.open(PickList(RECORDED, "Recorded rides", rows))
    else:
        offer_folder(store, "recorded ride", store.session.folder / FOLDER, _elsewhere)


def _rows(session: Session) -> tuple[RideRow, ...]:
    files = ride_files(session.folder)
    there = {_whole(path) for path in files}
    others = [Path(ride.file) for ride in session.rides if _whole(ride.file) not in there]
    return (*files, *others, _ELSEWHERE, _NONE)


def _whole(path: Path | str) -> str:
    """A path by which the same file is known wherever it was named from."""
    return os.path.abspath(path)


def _line(row: RideRow, scene: Scene) -> Line:
    if isinstance(row, str):
        return (Span(f"  {row}", Role.DIM),)
    there = _place(scene.session.rides, row) is not None
    return line(f"{scene.look.glyphs.tick if there else ' '} ", shown(row))


def _place(there: tuple[Recording, ...], path: Path) -> int | None:
    return next((at for at, ride in enumerate(there) if _whole(ride.file) == _whole(path)), None)


def _take(store: SessionStore, row: RideRow, _: None) -> None:
    if row == _ELSEWHERE:
        _elsewhere(store)
    elif isinstance(row, str):
        store.change(rides=(), message="No rides.")
    else:
        _turn(store, row)


def _elsewhere(store: SessionStore) -> None:
    """A recorded ride in any folder, from that of the one before on."""
    before = store.session.rides
    folder = Path(before[-1].file).parent if before else store.session.folder / FOLDER
    walk(store, "A recorded ride", Walk(folder, ENDINGS, _take_path))


def _take_path(store: SessionStore, path: Path) -> None:
    if _place(store.session.rides, path) is None:
        _read(store, path)
    else:
        store.say(f"{shown(path)} is in already.")


def _turn(store: SessionStore, path: Path) -> None:
    """Take a ride in, or out if it is in."""
    there = store.session.rides
    at = _place(there, path)
    if at is None:
        _read(store, path)
    else:
        store.change(rides=(*there[:at], *there[at + 1 :]), message=f"{shown(path)} is out.")


def _read(store: SessionStore, path: Path) -> None:
    read_file(store, path, do(_found, store.session), _took, at_once=0)


def _found(path: Path, progress: ReadProgress, session: Session) -> Recording:
    """A ride about which all has been found, which takes longer than reading it; and what draws its plot."""
    ride = read_ride(path, progress)
    ridden_on([ride], session.ridden, told=do(progress, 1.0))
    asked = replace(session, rides=(*session.rides, ride)).asked_of_rides
    assert asked is not None
    asked.evidence()  # it is kept for the view
    library()
    return ride


def _took(store: SessionStore, ride: Recording) -> None:
    store.change(rides=(*store.session.rides, ride))
    _list_again(store)
    said = count(len(store.session.rides), "ride")
    store.say(f"{shown(Path(ride.file))}: {ride.length_m / 1000:.1f} km; {said} in all.")


def _list_again(store: SessionStore) -> None:
    """A ride from elsewhere stands in the list too, where that is open; the mark stays where it was."""
    opened = store.session.open
    if isinstance(opened, PickList) and opened.kind is RECORDED:
        rows = _rows(store.session)
        at = rows.index(opened.values[opened.at])
        store.replace(store.session.swapped(replace(opened, values=rows, at=at)))


RECORDED: Final = ListKind(
    each(_line), _take, stays=True, foot=(MOVE, FootKey("Enter", "in or out", "enter")), height=6
)
