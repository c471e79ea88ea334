"""Actions of the Ride view: the course to ride."""

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from cogwright.app.content import Choice, Content
from cogwright.app.handlers import does
from cogwright.core.errors import InputError
from cogwright.core.text import shown_name
from cogwright.present.lines import Role, Span
from cogwright.store.courses import course_files, read_course

if TYPE_CHECKING:
    from cogwright.app.main import BenchApp


@does("course")
def course(app: "BenchApp") -> None:
    """Choose a course; it is read when it is taken, since a track may be long."""
    files = course_files(app.folder)
    if not files:
        app.say("There is no course here: put TOML, CSV or GPX files into the folder courses.")
        return
    choices = [Choice((Span(shown_name(path.name)),), path) for path in files]
    choices.append(Choice((Span("no course", Role.DIM),), None))
    app.drawer_open(Content("Ride a course", choices, pick=lambda path: _take_course(app, path), filter=True))


def _take_course(app: "BenchApp", path: Path | None) -> None:
    try:
        chosen = read_course(path) if path is not None else None
    except InputError as error:
        app.say(f"This course cannot be read: {error.problems[0]}")
        return
    said = f"Course: {chosen.name}." if chosen is not None else "No course."
    app.become(replace(app.session, course=chosen).looked(4).say(said))
