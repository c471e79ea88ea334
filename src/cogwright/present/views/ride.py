"""The Ride view: which hills, which speeds, what is given up; and the same along a course."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from cogwright.core.common.units import S_PER_MIN
from cogwright.core.gears.gears import Gear
from cogwright.core.riding.course import Course
from cogwright.core.riding.course_ride import on_course
from cogwright.core.riding.efforts import short
from cogwright.core.riding.grades import GearRide, Ride, in_words, ride_of, short_words
from cogwright.core.study import Study
from cogwright.present.bars import Bar, draw_bars
from cogwright.present.lines import Line, Look, Page, Role, Span, clip, line, told
from cogwright.present.views.assumptions import assumption_lines
from cogwright.present.views.bands import band_lines
from cogwright.present.views.course import course_head, course_rows

#: Cells of the two grades, and of the speed, which stands from this width on; and of the word "lost".
_GRADES, _SPEED, _LOST, _WIDE = 20, 12, 6, 48


@dataclass(frozen=True, slots=True)
class RideState:
    """What the Ride view shows besides the gears: a course, if one is chosen."""

    course: Course | None = None


def ride_page(study: Study, look: Look, state: RideState | None = None) -> Page:
    """The Ride view: what changes at both ends, or a course's totals, stays in sight; the rest scrolls."""
    course = state.course if state else None
    head, rows = words_lines(study, look), list[Line]()
    if course is not None:
        on = on_course(study, course)
        rows = [*course_rows(on, study.bench.rider, look), (), *head]
        head = course_head(on, look)
    rows += [*per_gear_lines(study, look), (), *band_lines(study, look), (), *assumption_lines(study, look)]
    return Page(tuple(head), tuple(clip(row, look.width) for row in rows))


def ride_lines(study: Study, look: Look, course: Course | None = None) -> list[Line]:
    """The Ride view in one piece."""
    page = ride_page(study, look, RideState(course))
    return [*page.head, *page.rows]


def words_lines(study: Study, look: Look) -> list[Line]:
    """What the change gives up or gains, in a rider's words."""
    ride = ride_of(study)
    roles = (*_roles(ride), Role.PROBLEM)
    return [
        row for said, role in zip(in_words(ride), roles, strict=False) for row in told(said, look.width, role)
    ]


def _roles(ride: Ride) -> tuple[Role, Role]:
    low, top = ride.base_steepest_pct, ride.base_spin_out_kmh
    if low is None or top is None:
        return Role.TEXT, Role.TEXT
    return _role(ride.steepest_pct - low, 0.05), _role(ride.spin_out_kmh - top, 0.05)


def _role(change: float, felt: float) -> Role:
    if abs(change) < felt:
        return Role.OK
    return Role.GAINED if change > 0 else Role.LOST


def per_gear_lines(study: Study, look: Look) -> list[Line]:
    """A line a gear, easiest first: a bar up to the grade held all day, both grades, preferred speed."""
    ride = ride_of(study)
    happy = ride.rider.cadence_rpm[1]
    shown = [(row, "bench") for row in ride.per_gear] + [(row, "lost") for row in _lost(study)]
    shown.sort(key=lambda pair: pair[0].gear.development_m)
    names = [row.gear.label for row, _ in shown]
    gear = max(map(len, names)) + 1
    speed = _SPEED if look.width >= _WIDE else 0
    room = max(look.width - gear - 1 - _GRADES - speed - _LOST, 0)
    bars = _bars([row for row, _ in shown], [kind for _, kind in shown], room, look)
    what = "steepest held all day"
    head = f" {'gear':<{gear}}{what if len(what) <= room else '':<{room}}"
    tops = f"{'all day %':>10}{_minutes(ride):>10}{f'km/h at {happy:.0f}':>12}"[: _GRADES + speed]
    out: list[Line] = [(Span(head + tops, Role.HEAD),)]
    for (row, kind), name, bar in zip(shown, names, bars, strict=True):
        out.append(_gear_line(row, kind, line(Span(f" {name:<{gear}}"), Span(bar, _ROLES[kind])), speed))
    return [*out, *_how(ride, look)]


_ROLES: Final = {"bench": Role.BENCH, "lost": Role.LOST}


def _minutes(ride: Ride) -> str:
    return f"{ride.rider.short_s / S_PER_MIN:.3g} min %"


def _how(ride: Ride, look: Look) -> list[Line]:
    """What the two efforts are."""
    effort, rider = short(ride.rider), ride.rider
    said = (
        f"Grades in %: all day at {rider.power_w:g} W and {rider.cadence_rpm[0]:g} rpm; {short_words(rider)} "
        f"standing at {effort.power_w:g} W and {effort.rpm:g} rpm."
    )
    return told(said, look.width, Role.DIM)


def _lost(study: Study) -> list[GearRide]:
    """The baseline's gears that are lost at either end."""
    if study.comparison is None:
        return []
    gone: set[Gear] = {*study.comparison.lost_low, *study.comparison.lost_high}
    return [row for row in ride_of(study).base_per_gear if row.gear in gone]


def _bars(rows: Sequence[GearRide], kinds: Sequence[str], room: int, look: Look) -> list[str]:
    """A bar a row, as long as the grade; a gear that holds no climb has none."""
    top = max(row.steepest_pct for row in rows)
    if top <= 0:
        return [" " * room] * len(rows)
    climbs = [
        Bar(row.steepest_pct, "bench" if kind == "bench" else "lost")
        for row, kind in zip(rows, kinds, strict=True)
        if row.steepest_pct > 0
    ]
    drawn = iter(draw_bars(climbs, top, room, look.glyphs))
    return [next(drawn) if row.steepest_pct > 0 else " " * room for row in rows]


def _gear_line(row: GearRide, kind: str, drawn: Line, speed: int) -> Line:
    lost = kind == "lost"
    grades = f"{_grade(row.steepest_pct):>10}{_grade(row.steepest_short_pct):>10}"
    said = f"{grades}{row.happy_kmh:{speed}.1f}" if speed else grades
    return line(
        drawn, Span(said, Role.LOST if lost else Role.TEXT), Span("  lost" if lost else "", Role.LOST)
    )


def _grade(percent: float) -> str:
    """A grade in seven cells; what is past 45 degrees either way is only said to be so."""
    if abs(percent) < 100.0:
        return f"{percent:7.1f}"
    return "   >100" if percent > 0 else "  <-100"
