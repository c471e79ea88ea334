"""The sections of a report beyond the gears themselves: one row each, in the order they are printed.

To add one: write `json` (Study, Extras -> what stands under `key`) and, if it reads well as text, `lines`
(Study, Extras, Look -> lines); add a row to SECTIONS. An alarm is a danger said at the top of every report.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from cogwright.core.comparing.story import StoryStep, story_of
from cogwright.core.fit.registry import headline_problems
from cogwright.core.parts.bin import Bin
from cogwright.core.riding.course import Course
from cogwright.core.shifting.pattern import pattern_name
from cogwright.core.study import Study
from cogwright.present.lines import Line, Look, wrap
from cogwright.present.report.drive_data import belt_json, fixed_json, motor_json, timing_json
from cogwright.present.report.fit_data import chain_json, fit_json, indexing_json, wear_json
from cogwright.present.report.ride_data import course_json, ride_json, shifting_json
from cogwright.present.views.fit import fit_lines
from cogwright.present.views.ride import ride_lines
from cogwright.present.views.shifting import shifting_lines
from cogwright.present.views.story import story_json, story_lines


@dataclass(frozen=True, slots=True)
class Extras:
    """What a report may be given beyond the bench and the baseline."""

    course: Course | None = None
    stock: Bin | None = None


@dataclass(frozen=True, slots=True)
class ReportSection:
    """One key of the JSON object and, with `lines`, one section of the text under `title`."""

    key: str
    title: str
    json: Callable[[Study, Extras], object]
    lines: Callable[[Study, Extras, Look], list[Line]] | None = None


def _story(of: Study, extras: Extras) -> tuple[StoryStep, ...]:
    return story_of(of.baseline, of.bench, extras.stock) if of.baseline is not None else ()


def _story_lines(of: Study, extras: Extras, look: Look) -> list[Line]:
    currency = extras.stock.currency if extras.stock else ""
    nothing = wrap(
        "Without a baseline there is no change to tell." if of.baseline is None else "Nothing.", look.width
    )
    return story_lines(_story(of, extras), currency, look) or nothing


SECTIONS: Final[tuple[ReportSection, ...]] = (
    ReportSection(
        "story", "The change, step by step", lambda of, extras: story_json(_story(of, extras)), _story_lines
    ),
    ReportSection(
        "fit", "Fit", lambda of, _: fit_json(of), lambda of, extras, look: fit_lines(of, look, extras.stock)
    ),
    ReportSection("chain", "Chain", lambda of, _: chain_json(of)),
    ReportSection("indexing", "Indexing", lambda of, _: indexing_json(of)),
    ReportSection("wear", "Wear", lambda of, extras: wear_json(of, extras.stock)),
    ReportSection("belt", "Belt", lambda of, extras: belt_json(of, extras.stock)),
    ReportSection("fixed", "Fixed", lambda of, _: fixed_json(of)),
    ReportSection("timing_chain", "Timing chain", lambda of, _: timing_json(of)),
    ReportSection("motor", "Motor", lambda of, _: motor_json(of)),
    ReportSection(
        "ride",
        "Ride",
        lambda of, extras: ride_json(of, extras.course),
        lambda of, extras, look: ride_lines(of, look, extras.course),
    ),
    ReportSection("course", "Course", lambda of, extras: course_json(of, extras.course)),
    ReportSection(
        "shifting", "Shifting", lambda of, _: shifting_json(of), lambda of, _, look: shifting_lines(of, look)
    ),
    ReportSection("shift_pattern", "Shift pattern", lambda of, _: pattern_name(of.bench)),
)

#: Study -> sentences on what can hurt someone, shown first in every report.
ALARMS: Final[tuple[Callable[[Study], tuple[str, ...]], ...]] = (headline_problems,)


def alarms(of: Study) -> list[str]:
    """All that can hurt someone, from every source."""
    return [said for alarm in ALARMS for said in alarm(of)]
