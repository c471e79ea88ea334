"""The answer to a climb in words: the development that it asks for, and what this bike has for it."""

from cogwright.core.common.units import percent
from cogwright.core.riding.grades import short_words
from cogwright.core.riding.needed import Answer, Needed
from cogwright.core.setup.model import Setup
from cogwright.present.lines import Line, Look, Role, told

#: How well such a model has been found to agree with measured power uphill (see `resistance`).
GOOD = "An estimate: uphill such a model is within about 6 % of measured power (10 % in wind)."


def climb_lines(answer: Answer, setup: Setup, look: Look) -> list[Line]:
    """The need, the gear, and what to mind."""
    rows = told(f"{asked_words(answer.needed)}: {need_words(answer, setup)}", look.width, Role.TITLE)
    rows += told(gear_words(answer), look.width, Role.OK if answer.gear else Role.PROBLEM)
    if answer.needed.walks:
        rows += told(walk_words(answer), look.width, Role.CAUTION)
    return [*rows, *told(GOOD, look.width, Role.DIM)]


def asked_words(needed: Needed) -> str:
    """The question: grade, load, cadence."""
    load = f" with {needed.load_kg:g} kg of load" if needed.load_kg else ""
    return f"{needed.climb.grade_pct:g} %{load} at {needed.rpm:g} rpm"


def need_words(answer: Answer, setup: Setup) -> str:
    """What that asks for."""
    needed = answer.needed
    lasts = short_words(setup.rider) if needed.climb.briefly else "all day"
    return (
        f"{needed.effort.power_w:.0f} W {lasts} give {needed.kmh:.1f} km/h, which needs a development of "
        f"{needed.development_m:.2f} m."
    )


def gear_words(answer: Answer) -> str:
    """Which gear of the bike is low enough, or by how much the easiest is too hard."""
    gear, easiest = answer.gear, answer.easiest
    if gear is not None:
        easier = (
            "" if gear == easiest else f", the easiest is {easiest.label} with {easiest.development_m:.2f} m"
        )
        return f"This bike has it: {gear.label} with {gear.development_m:.2f} m{easier}."
    over = percent(easiest.development_m / answer.needed.development_m)
    return (
        f"No gear of this bike is so low: the easiest, {easiest.label} with {easiest.development_m:.2f} m, "
        f"is {over:.0f} % harder and leaves {answer.easiest_rpm:.0f} rpm."
    )


def walk_words(answer: Answer) -> str:
    """That no gear makes riding worth it there."""
    return (
        f"Pushing the bike is quicker than {answer.needed.kmh:.1f} km/h: more power or less load, not gears."
    )
