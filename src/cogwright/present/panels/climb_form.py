"""The form that asks for a climb: a row a figure, and the answer over them."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Final

from cogwright.core.common.safe_text import pad
from cogwright.core.common.units import percent
from cogwright.core.riding.efforts import short, sustained
from cogwright.core.riding.grades import short_words
from cogwright.core.riding.needed import CADENCES, GRADES, LOADS, Answer, Climb, needed_for
from cogwright.core.setup.model import Setup
from cogwright.present.lines import Line, Look, Role, Span, line, told
from cogwright.present.views.climb import asked_words


@dataclass(frozen=True, slots=True)
class ClimbField:
    """A figure of the form: its name and unit, how far a step goes, its bounds, and what it is now."""

    field: str
    name: str
    unit: str
    step: float
    bounds: tuple[float, float]
    value: Callable[[Climb, Setup], float]

    def put(self, climb: Climb, value: float) -> Climb:
        """The climb with another figure, within its bounds."""
        low, high = self.bounds
        put: dict[str, Any] = {self.field: min(max(value, low), high)}
        return climb._replace(**put)


FIELDS: Final = (
    ClimbField("grade_pct", "grade", "%", 1.0, GRADES, lambda climb, _: climb.grade_pct),
    ClimbField("load_kg", "load", "kg", 5.0, LOADS, lambda climb, bike: needed_for(climb, bike).load_kg),
    ClimbField("rpm", "cadence", "rpm", 5.0, CADENCES, lambda climb, bike: needed_for(climb, bike).rpm),
)


def field_row(field: ClimbField, climb: Climb, setup: Setup) -> Line:
    """A figure's line."""
    return line(pad(field.name, 10), f"{field.value(climb, setup):>6g} {field.unit}")


def effort_row(climb: Climb, setup: Setup) -> Line:
    """The line of the two efforts, and what the one chosen is."""
    effort = short(setup.rider) if climb.briefly else sustained(setup.rider)
    lasts = short_words(setup.rider).removeprefix("for ") if climb.briefly else "all day"
    power = Span(f"  {effort.power_w:.0f} W", Role.DIM)
    return line(pad("effort", 10), f"{lasts:>9}", power)


def answer_head(answer: Answer, look: Look) -> list[Line]:
    """The answer in brief, two lines or three where there is room, so that the chart stays in sight."""
    needed, easiest = answer.needed, answer.easiest
    asked = f"{asked_words(needed)} needs {needed.development_m:.2f} m"
    rows = told(f"{asked}: {needed.kmh:.1f} km/h on {needed.effort.power_w:.0f} W.", look.width, Role.TITLE)
    if answer.gear is not None:
        said = f"{answer.gear.label} serves, with {answer.gear.development_m:.2f} m."
        return [*rows, *told(said, look.width, Role.OK), *_walks(answer, look)]
    over = percent(easiest.development_m / needed.development_m)
    said = (
        f"No gear is so low: {easiest.label}, {easiest.development_m:.2f} m, is {over:.0f} % harder and "
        f"leaves {answer.easiest_rpm:.0f} rpm."
    )
    return [*rows, *told(said, look.width, Role.PROBLEM), *_walks(answer, look)]


def _walks(answer: Answer, look: Look) -> list[Line]:
    if not answer.needed.walks:
        return []
    return told("Pushing the bike is quicker: more power or less load, not gears.", look.width, Role.CAUTION)
