"""How well a setup serves on a course: what the search for a ring asks."""

import math
from collections.abc import Callable
from typing import NamedTuple

from cogwright.core.common.units import S_PER_MIN
from cogwright.core.riding.course import Course
from cogwright.core.riding.course_ride import CourseRide, course_ride
from cogwright.core.setup.model import Setup


class CourseScore(NamedTuple):
    """What setups on a course are put in order by, least first, and that in words."""

    key: tuple[float, ...]
    say: str


#: How well a setup serves on the chosen course; None when that cannot be said.
ScoreOnCourse = Callable[[Setup], CourseScore | None]


def score_on(course: Course) -> ScoreOnCourse:
    """A score for setups on a course: least time outside the cadences that the rider likes, or on foot.

    Of equals the one that grinds at the higher cadence, then the quicker. The time alone would always
    choose the larger ring: the model's rider has the same power however slowly the cranks turn.
    """

    def score(setup: Setup) -> CourseScore:
        ride = course_ride(course, setup, setup.rider)
        slowest = min((stretch.rpm for stretch in ride.grinding), default=math.inf)
        outside = round(ride.outside_s, 1)
        return CourseScore((outside, -slowest, ride.total_s), _words(course, ride))

    return score


def _words(course: Course, ride: CourseRide) -> str:
    times = (ride.grinding_s, ride.standing_s + ride.walking_s, ride.spinning_s, ride.total_s)
    grinds, walks, spins, total = (s / S_PER_MIN for s in times)
    return (
        f"on {course.name}: grinds {grinds:.1f} min, stands or walks {walks:.1f} min, "
        f"spins out {spins:.1f} min of {total:.0f} min (estimate)"
    )
