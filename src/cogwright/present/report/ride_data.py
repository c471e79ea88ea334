"""Ride and shift order as data, for JSON. Scripts rely on the keys: add to them, never rename one."""

from typing import Final

from cogwright.core.riding.bands import SpeedBand, bands_of
from cogwright.core.riding.course import Course
from cogwright.core.riding.course_ride import CourseRide, Stretch, on_course
from cogwright.core.riding.grades import GearRide, assumptions, ride_of
from cogwright.core.riding.legs import Legs
from cogwright.core.shifting.levers import Move
from cogwright.core.shifting.shift_order import shift_order_of
from cogwright.core.study import Study
from cogwright.core.worksheet.new_chain import only_with_new_chain, with_new_chain
from cogwright.present.report.values import Data, gear_keys, rounded

DECIMALS: Final = 4


def ride_json(study: Study, course: Course | None = None) -> Data:
    """What the figures rest on, every gear, and the bench on a course; None without a course."""
    ride = ride_of(study)
    return {
        "assumptions": {name: _r(value) for name, value in assumptions(ride.rider, ride.resistance).items()},
        "per_gear": [_gear(row) for row in ride.per_gear],
        "spin_out_kmh": _r(ride.spin_out_kmh),
        "flat_kmh": _r(ride.flat_kmh),
        "course": None if course is None else _course(on_course(study, course).bench),
        "steepest_pct": _r(ride.steepest_pct),
        "steepest_short_pct": _r(ride.steepest_short_pct),
        "speed_bands": [_band(band) for band in bands_of(study).bands],
        "speed_gaps": [
            {"from_kmh": _r(gap.low_kmh), "to_kmh": _r(gap.high_kmh)} for gap in bands_of(study).gaps
        ],
    }


def _band(band: SpeedBand) -> Data:
    return {
        **gear_keys(band.gear),
        "low_kmh": _r(band.low_kmh),
        "preferred_kmh": _r(band.preferred_kmh),
        "high_kmh": _r(band.high_kmh),
        "shift_up_kmh": None if band.up_kmh is None else _r(band.up_kmh),
    }


def course_json(study: Study, course: Course | None) -> Data | None:
    """The course and the bench on it; None without a course."""
    if course is None:
        return None
    on = on_course(study, course)
    return _course(on.bench) | {
        "length_m": _r(course.length_m),
        "climb_m": _r(course.ascent_m),
        "climb_doubt_m": None if course.climb_doubt_m is None else _r(course.climb_doubt_m),
        "steepest_pct": _r(100.0 * course.steepest),
        "heights": course.how,
        "baseline_total_s": None if on.baseline is None else _r(on.baseline.total_s),
    }


def shifting_json(study: Study) -> list[Data]:
    """The shift order, easiest gear first; clicks are those of the hub where there is one cog only.

    `new_chain_only` says that the gear is safe with the chain of the order alone, never with the one of now.
    """
    one_cog, wanting = len(study.bench.rear.cogs) == 1, only_with_new_chain(study)
    moves = shift_order_of(with_new_chain(study)).moves
    return [_move(move, one_cog) | {"new_chain_only": move.gear in wanting} for move in moves]


def _gear(row: GearRide) -> Data:
    return {
        **gear_keys(row.gear),
        "steepest_pct": _r(row.steepest_pct),
        "happy_kmh": _r(row.happy_kmh),
        "steepest_short_pct": _r(row.steepest_short_pct),
    }


def _course(ride: CourseRide) -> Data:
    return {
        "name": ride.course.name,
        "file": ride.course.file,
        "length_m": _r(ride.course.length_m),
        "ascent_m": _r(ride.course.ascent_m),
        "total_s": _r(ride.total_s),
        "grinding_s": _r(ride.grinding_s),
        "spinning_s": _r(ride.spinning_s),
        "coasting_would_save_s": _r(ride.coast_saves_s),
        "front_shifts": ride.front_shifts,
        "rear_shifts": ride.rear_shifts,
        "time_in_gear": [{**gear_keys(gear), "s": _r(seconds)} for gear, seconds in ride.time_in_gear],
        "grinding": [_stretch(stretch) for stretch in ride.grinding],
        "spinning": [_stretch(stretch) for stretch in ride.spinning],
        "standing_s": _r(ride.standing_s),
        "walking_s": _r(ride.walking_s),
        "rolling_s": _r(ride.rolling_s),
        "standing": [_stretch(stretch) for stretch in ride.stretches(Legs.STAND)],
        "walking": [_stretch(stretch) for stretch in ride.stretches(Legs.WALK)],
    }


def _stretch(of: Stretch) -> Data:
    return {
        "from_m": _r(of.start_m),
        "to_m": _r(of.end_m),
        "s": _r(of.seconds),
        "steepest_pct": _r(100.0 * of.steepest),
        "rpm": _r(of.rpm),
        "place": of.place,
    }


def _move(move: Move, one_cog: bool) -> Data:
    return {
        **gear_keys(move.gear),
        "front": move.front,
        "rear_clicks": move.hub_clicks if one_cog else move.rear_clicks,
        "hub_clicks": move.hub_clicks,
    }


def _r(value: float) -> float | None:
    return rounded(value, DECIMALS)
