"""Actions of the Ride and Shifting views: the course, the rider's table, the drill."""

import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from cogwright.app.controllers.bench import edit
from cogwright.app.controllers.handlers import does
from cogwright.app.pickers.content import Choice, Content
from cogwright.core.common.errors import EditRefused, InputError
from cogwright.core.common.numbers import number_in
from cogwright.core.common.safe_text import shown_name
from cogwright.core.riding.rider_fields import RIDER_FIELDS, RiderField
from cogwright.core.shifting.drill import Drill, drill_of
from cogwright.core.shifting.shift_order import shift_order_of
from cogwright.present.lines import Role, Span, line
from cogwright.present.panels.rider_table import rider_rows, usual_lines
from cogwright.present.views.shifting import drill_page
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


@does("rider")
def rider(app: "BenchApp") -> None:
    """Edit rider and road in a table; the Ride view above it follows."""
    app.become(app.session.looked(4).scrolled(0))
    app.drawer_open(_rider_table(app, 0))


def _rider_table(app: "BenchApp", start: int) -> Content:
    study, look = app.session.study, app.look.narrower(3)
    rows = rider_rows(study, look)
    return Content(
        "Rider, bike and road",
        [Choice(row, field) for row, field in zip(rows, RIDER_FIELDS, strict=True)],
        pick=lambda field: _pick_field(app, field),
        sideways=lambda by: _nudge(app, by),
        about=lambda field, room: usual_lines(app.session.study, field, room),
        about_room=4,
        start=start,
        height=max(app.look.height // 2, 8),
        keys="Up Down move   Left Right less, more   Enter type   q or Esc back",
        fitted=lambda: _rider_table(app, app.drawer.index),
    )


def _pick_field(app: "BenchApp", chosen: RiderField) -> None:
    """Type a number; where some are usual, choose one of them by its name."""
    if not chosen.usual:
        _type_field(app, chosen)
        return
    rows = [
        Choice(
            line(f"{each.value:<6g}{chosen.unit:<3} ", each.label, Span(f"  ({each.source})", Role.DIM)), each
        )
        for each in chosen.usual
    ]
    now = chosen.usual_now(app.session.bench)
    app.drawer_open(
        Content(
            chosen.label,
            [*rows, Choice((Span("another figure", Role.KEY),))],
            pick=lambda each: _take_usual(app, chosen, each.value) if each else _type_field(app, chosen),
            leave=lambda: _back(app, chosen),
            start=chosen.usual.index(now) if now else len(rows),
        )
    )


def _take_usual(app: "BenchApp", chosen: RiderField, value: float) -> None:
    edit(app, chosen.edit(app.session.bench, value))
    _back(app, chosen)


def _back(app: "BenchApp", chosen: RiderField) -> None:
    """The table again, at the field that was chosen."""
    app.drawer_open(_rider_table(app, RIDER_FIELDS.index(chosen)))


def _nudge(app: "BenchApp", by: int) -> None:
    """One step less or more; what cannot be says why, and the table stays."""
    chosen: RiderField = RIDER_FIELDS[app.drawer.index]
    edit(app, chosen.nudge(app.session.bench, by > 0))
    app.drawer.update(_rider_table(app, app.drawer.index))


def _type_field(app: "BenchApp", chosen: RiderField) -> None:
    def typed(text: str) -> str | None:
        try:
            value = number_in(text)
            app.become(app.session.edit(chosen.edit(app.session.bench, value)))
        except ValueError:
            return (
                f"Type a number of {chosen.unit or 'its unit'}, such as {chosen.value(app.session.bench):g}."
            )
        except EditRefused as refusal:
            return f"{refusal}."
        _back(app, chosen)
        return None

    value = f"{chosen.value(app.session.bench):g}"
    name = f"{chosen.label}, {chosen.unit}".strip(", ")
    app.drawer_open(Content(name, typed=typed, value=value, leave=lambda: _back(app, chosen)))


@does("drill")
def drill(app: "BenchApp") -> None:
    """The shifting drill on the bench's gears."""
    study = app.session.study
    begun = drill_of(shift_order_of(study), study.gears, seed=time.time_ns())
    if begun is None:
        app.say("With one gear there is nothing to drill.")
        return
    app.become(app.session.looked(1))  # the Shifting view would give the answers away
    app.drawer_open(_drill_content(app, begun))


def _drill_content(app: "BenchApp", now: Drill) -> Content:
    one_cog = len(app.session.bench.rear.cogs) == 1
    moves: dict[str, Drill] = {
        "right": now.shift(hub=1) if one_cog else now.shift(rear=1),
        "left": now.shift(hub=-1) if one_cog else now.shift(rear=-1),
        "backspace": now.clear(),
    }
    if len(now.levers.rings) > 1:
        moves |= {"up": now.shift(front=1), "down": now.shift(front=-1)}
    if len(now.levers.hubs) > 1:
        moves |= {"pageup": now.shift(hub=1), "pagedown": now.shift(hub=-1)}

    def go(to: Drill) -> Callable[[], None]:
        return lambda: app.drawer.update(_drill_content(app, to))

    stays = {key: go(to) for key, to in moves.items()}
    if now.pressed:
        stays["enter"] = go(now.answer())
    room = app.look.height - 7  # the head of the screen, the title and two lines of keys
    page = drill_page(now, app.look.narrower(3).of_height(room))
    shifts = "Right harder   Left easier"
    shifts += "   Up Down front" if len(app.session.bench.crank.rings) > 1 else ""
    shifts += "   PgUp PgDn hub" if not one_cog and len(app.session.bench.rear.hub_ratios) > 1 else ""
    return Content(
        "Shifting drill",
        [Choice(row) for row in page.rows],
        stays=stays,
        height=14,
        least=12,
        keys=f"{shifts}   Enter shift   Backspace clear   q back",
    )
