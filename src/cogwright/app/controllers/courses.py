"""Choose a course to ride; it is read when it is taken, since a track may be long."""

from pathlib import Path
from typing import Final

from cogwright.app.controllers.asking import shown
from cogwright.app.controllers.reading import read_file
from cogwright.app.controllers.registry import does
from cogwright.app.controllers.walking import Walk, offer_folder, walk
from cogwright.app.pickers.scene import Scene, each
from cogwright.app.state.opened import ListKind, PickList, do
from cogwright.app.state.store import SessionStore
from cogwright.core.riding.course import Course
from cogwright.present.lines import Line, Role, Span
from cogwright.store.courses import FOLDER, READERS, course_files, read_course

#: A row of the list: a file, none, or one to be looked for.
CourseRow = Path | str | None
_ELSEWHERE: Final = "elsewhere"


@does("course")
def course(store: SessionStore) -> None:
    """The courses of the folder, and none."""
    files = course_files(store.session.folder)
    if not files:
        offer_folder(store, "course", store.session.folder / FOLDER, _elsewhere)
        return
    store.open(PickList(COURSES, "Ride a course", (*files, _ELSEWHERE, None)))


def _elsewhere(store: SessionStore) -> None:
    """A course or a recorded ride in any folder."""
    folder = store.session.folder / FOLDER
    walk(store, "A course or a recorded ride", Walk(folder, tuple(READERS), do(_take, None)))


def _words(path: CourseRow) -> str:
    if isinstance(path, str):
        return "a file elsewhere"
    return shown(path) if path else "no course"


def _line(path: CourseRow, _: Scene) -> Line:
    return (Span(_words(path), Role.TEXT if isinstance(path, Path) else Role.DIM),)


def _take(store: SessionStore, path: CourseRow, _: None) -> None:
    if isinstance(path, str):
        _elsewhere(store)
        return
    store.replace(store.session.looked(4))
    if path is None:
        _took(store, None)
    else:
        read_file(store, path, read_course, _took)


def _took(store: SessionStore, chosen: Course | None) -> None:
    said = f"Course: {chosen.name}." if chosen is not None else "No course."
    store.change(course=chosen, message=said)


COURSES: Final = ListKind(each(_line), _take, words=_words)
