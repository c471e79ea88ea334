"""A course under bench and baseline: totals, profile, what the legs do where, time in each gear."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from cogwright.core.chain.left_out import UNREACHABLE
from cogwright.core.common.safe_text import cells
from cogwright.core.gears.gears import Gear
from cogwright.core.riding.course import Course
from cogwright.core.riding.course_ride import CourseRide, OnCourse, Stretch
from cogwright.core.riding.efforts import least_cadence
from cogwright.core.riding.grades import short_words
from cogwright.core.riding.legs import Legs
from cogwright.core.setup.model import Rider
from cogwright.present.bars import Bar, BarKind, draw_bars
from cogwright.present.clock import clock, timed
from cogwright.present.lines import Column, Line, Look, Role, Span, clip, line, spread, table, told
from cogwright.present.views.profile import MARKS, profile_lines

#: Stretches shown of each kind, the longest ones; and shorter ones than this, in s, are not told.
_SHOWN: Final = 6
_LEAST_S: Final = 5.0
_HEADS: Final = (" h:min:s", "total", "grinding", "standing", "walking", "spinning", "rolling", "front+rear")
_SHORT_HEADS: Final = (" h:min:s", "total", "grind", "walk", "spin")
_NARROW: Final = 64
#: Cells that the screen needs beside the course's name and facts, to say which rows are in sight.
_PLACE: Final = 15
_TERSE: Final = {"bench": "bench", "baseline": "base"}
#: Rows of the profile, and the height of the screen from which it is the higher one.
_LOW, _HIGH, _TALL = 7, 11, 32


def course_head(on: OnCourse, look: Look) -> list[Line]:
    """What comes of it in a sentence, the course in one line, the totals of bench and baseline."""
    heads = _HEADS if look.width >= _NARROW else _SHORT_HEADS
    columns = [Column(head, right=i > 0) for i, head in enumerate(heads)]
    rows = [_totals(" bench", on.bench, Role.BENCH, look)]
    if on.baseline is not None:
        rows.append(_totals(" baseline", on.baseline, Role.BASE, look))
    gap = 2 if look.width >= _NARROW else 1
    return [
        *told(course_verdict(on), look.width, Role.TITLE),
        _title(on.course, look),
        *(clip(row, look.width) for row in table(columns, rows, gap)),
        *_unridden(on, look),
    ]


def _title(course: Course, look: Look) -> Line:
    """The course's name whole if it can be, with what is known of it as far as there is room."""
    room = look.width - _PLACE if look.width >= _NARROW else look.width
    doubt = f" +-{course.climb_doubt_m:.0f}" if course.climb_doubt_m is not None else ""
    facts = f"{course.length_m / 1000:.1f} km, {course.ascent_m:.0f}{doubt} m up"
    more = f"{facts}, steepest {100 * course.steepest:.0f} %"
    said = more if cells(course.name) + len(more) + 4 <= room else facts
    return spread((Span(f" {course.name}", Role.TITLE),), (Span(f"{said} ", Role.DIM),), room)


def _unridden(on: OnCourse, look: Look) -> list[Line]:
    """Gears that the chain does not reach, of either: they would change the picture."""
    out: list[Line] = []
    for name, ride in (("bench", on.bench), ("baseline", on.baseline)):
        gone = [g.label for g, why in ride.left_out.items() if why == UNREACHABLE] if ride else []
        if gone:
            said = f"The {name} rides without {', '.join(gone)}: {UNREACHABLE}."
            out += told(said, look.width, Role.PROBLEM)
    return out


#: What of the time is told, and how it counts; on a narrow screen standing and rolling are left out.
_TOLD: Final = {
    Legs.GRIND: Role.CAUTION,
    Legs.STAND: Role.CAUTION,
    Legs.WALK: Role.PROBLEM,
    Legs.SPIN: Role.CAUTION,
    Legs.ROLL: None,
}
_TERSELY: Final = (Legs.GRIND, Legs.WALK, Legs.SPIN)


def _totals(name: str, ride: CourseRide, role: Role, look: Look) -> list[Span]:
    wide = look.width >= _NARROW
    cells = [Span(name, role), Span(clock(ride.total_s), role)]
    for legs in _TOLD if wide else _TERSELY:
        spent = ride.spent_s(legs)
        cells.append(Span(clock(spent), (_TOLD[legs] or role) if round(spent) else role))
    return [*cells, Span(f"{ride.front_shifts} + {ride.rear_shifts}", role)] if wide else cells


def course_rows(on: OnCourse, rider: Rider, look: Look) -> list[Line]:
    """Profile, stretches, the difference in words, time in gear, and how the heights came about."""
    rows = profile_lines(on, look, _HIGH if look.height >= _TALL else _LOW)
    rows += [row for said in _legend(rider) for row in told(said, look.width, Role.DIM)]
    rows += [(), *(row for legs in MARKS for row in _stretches(on, legs, look))]
    rows += [row for said in _difference(on) for row in told(said, look.width)]
    heights = f"Heights: {on.course.how}; air density falls with height (ISO 2533)."
    return [*rows, (), *time_lines(on, look), *told(heights, look.width, Role.DIM)]


def _legend(rider: Rider) -> list[str]:
    low, _, high = rider.cadence_rpm
    least = f"{rider.walk_kmh:g} km/h or {least_cadence(rider):g} rpm"
    return [
        f"{MARKS[Legs.GRIND]} grinds: under {low:g} rpm in the easiest gear ridden",
        f"{MARKS[Legs.STAND]} stands: the short effort, {short_words(rider)}, so as not to walk",
        f"{MARKS[Legs.WALK]} walks: riding on would be under {least}",
        f"{MARKS[Legs.SPIN]} spins out: {high:g} rpm in the hardest gear, with power to spare",
        "front+rear: shifts of the two shifters",
    ]


def _stretches(on: OnCourse, legs: Legs, look: Look) -> list[Line]:
    """The longest stretches of a kind, in the order of the road, bench and baseline under each other."""
    out: list[Line] = []
    for name, ride, role in (("bench", on.bench, Role.BENCH), ("baseline", on.baseline, Role.BASE)):
        if ride is None:
            continue
        told = [s for s in ride.stretches(legs) if s.seconds >= _LEAST_S]
        longest = sorted(told, key=lambda s: -s.seconds)[:_SHOWN]
        out += [_stretch(name, legs, s, role, look) for s in told if s in longest]
        if len(told) > len(longest):
            out.append((Span(f"   and {len(told) - len(longest)} shorter ones", Role.DIM),))
    return out


def _stretch(name: str, legs: Legs, of: Stretch, role: Role, look: Look) -> Line:
    where = f"km {of.start_m / 1000:.1f} to {of.end_m / 1000:.1f}"
    if look.width < _NARROW:
        text = (
            f"{_TERSE[name]:<5} {MARKS[legs]} {where:<16}{clock(of.seconds):>7} {100 * of.steepest:+4.0f} %"
        )
        return line(Span(f" {text}", role))
    turning = "on foot " if legs is Legs.WALK else f"{of.rpm:4.0f} rpm"
    how = f"{timed(of.seconds):>10}  {100 * of.steepest:+5.1f} %  {turning}  "
    return line(Span(f" {f'{name} {legs}':<18} ", role), f"{where:<17}{how}", Span(of.place, Role.DIM))


def _difference(on: OnCourse) -> list[str]:
    said = list[str]()
    saves = on.bench.coast_saves_s
    if saves >= _LEAST_S:
        said.append(
            f"Coasting on those descents instead of holding the speed down would save {timed(saves)}."
        )
    if on.bench.grinding_s or (on.baseline is not None and on.baseline.grinding_s):
        said.append("Grinding costs legs, not time, in this model.")
    return said


def course_verdict(on: OnCourse) -> str:
    """How much sooner or later the bench is there than its baseline, and why; alone, how long it takes."""
    if on.gap_s is None:
        walks = on.bench.spent_s(Legs.WALK)
        return f"{timed(on.bench.total_s)} in all, {timed(walks) if walks else 'none'} of it on foot."
    gap = on.gap_s
    if abs(gap) < 0.5:
        return "Bench and baseline take the same time."
    slower = "slower" if gap > 0 else "faster"
    assert on.baseline is not None
    why = [
        f"{timed(abs(more))} {'more' if more > 0 else 'less'} {legs}"
        for legs in _TOLD
        if abs(more := on.bench.spent_s(legs) - on.baseline.spent_s(legs)) >= _LEAST_S
    ]
    return f"The bench is {timed(abs(gap))} {slower}{': ' if why else ''}{', '.join(why)}."


@dataclass(frozen=True, slots=True)
class _Side:
    """Bench or baseline: what it is called, its time in each gear that it uses, and how it is drawn."""

    name: str
    spent: Mapping[Gear, float]
    role: Role
    kind: BarKind


def time_lines(on: OnCourse, look: Look) -> list[Line]:
    """Time in each gear that is used, easiest first: bench beside baseline, bars on one scale."""
    sides = [_Side("time in gear, h:min:s, bench", _spent(on.bench), Role.BENCH, "bench")]
    if on.baseline is not None:
        sides.append(_Side("baseline", _spent(on.baseline), Role.BASE, "base"))
    gears = sorted({g for side in sides for g in side.spent}, key=lambda g: (g.development_m, g.ring, g.cog))
    top = max((seconds for side in sides for seconds in side.spent.values()), default=1.0)
    room = max((look.width - 10) // len(sides) - 11, 0)
    columns = [_cells(side, gears, top, look.of_width(room)) for side in sides]
    head = "".join(f"{side.name[: room + 9]:<{room + 11}}" for side in sides)
    out: list[Line] = [(Span(f" {'gear':<9}{head}", Role.HEAD),)]
    for gear, *row in zip(gears, *columns, strict=True):
        parts = [Span(cell, side.role) for side, cell in zip(sides, row, strict=True)]
        out.append(line(f" {gear.label:<9}", *parts))
    return out


def _spent(ride: CourseRide) -> dict[Gear, float]:
    return {gear: seconds for gear, seconds in ride.time_in_gear if seconds > 0.0}


def _cells(side: _Side, gears: Sequence[Gear], top: float, look: Look) -> list[str]:
    """Bar and time of each gear, on one side; the look's width is that of the bars."""
    used = [gear for gear in gears if gear in side.spent]
    bars = draw_bars([Bar(side.spent[g], side.kind) for g in used], top, look.width, look.glyphs)
    drawn = dict(zip(used, bars, strict=True))
    blank = " " * (look.width + 11)
    return [f"{drawn[g]}{clock(side.spent[g]):>9}  " if g in drawn else blank for g in gears]
