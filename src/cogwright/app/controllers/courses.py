"""Choose a course to ride; it is read when it is taken, since a track may be long."""

from pathlib import Path
from typing import Final

from cogwright.app.controllers.asking import shown
from cogwright.app.controllers.registry import does
from cogwright.app.pickers.scene import Scene, each
from cogwright.app.state.opened import ListKind, PickList
from cogwright.app.state.store import SessionStore
from cogwright.core.common.errors import InputError
from cogwright.present.lines import Line, Role, Span
from cogwright.store.courses import course_files, read_course


@does("course")
def course(store: SessionStore) -> None:
    """The courses of the folder, and none."""
    files = course_files(store.session.folder)
    if not files:
        store.say("There is no course here: put TOML, CSV or GPX files into the folder courses.")
        return
    store.open(PickList(COURSES, "Ride a course", (*files, None)))


def _words(path: Path | None) -> str:
    return shown(path) if path else "no course"


def _line(path: Path | None, _: Scene) -> Line:
    return (Span(_words(path), Role.TEXT if path else Role.DIM),)


def _take(store: SessionStore, path: Path | None, _: None) -> None:
    try:
        chosen = read_course(path) if path is not None else None
    except InputError as error:
        store.say(f"This course cannot be read: {error.problems[0]}")
        return
    said = f"Course: {chosen.name}." if chosen is not None else "No course."
    store.change(course=chosen)
    store.replace(store.session.looked(4).say(said))


COURSES: Final = ListKind(each(_line), _take, words=_words)
