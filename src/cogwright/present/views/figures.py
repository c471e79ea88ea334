"""The Figures view: every figure of every gear in a table, in the order the user asks for."""

from collections.abc import Callable
from dataclasses import dataclass

from cogwright.core.figures import GearRow
from cogwright.core.study import Study
from cogwright.present.lines import Column, Line, Look, Page, Role, Span, clip, line, table, told
from cogwright.present.sorting import Sorting
from cogwright.present.verdicts import figures_verdict, verdict_line


@dataclass(frozen=True, slots=True)
class FigureColumn:
    """A column of the table: head with the unit, text, what it is sorted by, least width to show it."""

    head: str
    show: Callable[[GearRow], str]
    key: Callable[[GearRow], float]
    room: int = 0


def _or_dash(value: float | None, form: str) -> str:
    return "-" if value is None else format(value, form)


FIGURES: tuple[FigureColumn, ...] = (
    FigureColumn(
        "gear",
        lambda r: r.gear.label,
        lambda r: (r.gear.ring * 1000 + r.gear.cog) * 100 + (r.gear.position or 0),
    ),
    FigureColumn("ratio", lambda r: f"{r.gear.ratio:.3f}", lambda r: r.gear.ratio, 52),
    FigureColumn("m", lambda r: f"{r.gear.development_m:.3f}", lambda r: r.gear.development_m),
    FigureColumn("inches", lambda r: f"{r.gear_inches:.1f}", lambda r: r.gear_inches, 48),
    FigureColumn("gain", lambda r: _or_dash(r.gain_ratio, ".2f"), lambda r: r.gain_ratio or 0.0, 60),
    FigureColumn("km/h", lambda r: f"{r.speed_kmh:.1f}", lambda r: r.speed_kmh),
    FigureColumn("step %", lambda r: _or_dash(r.step_pct, "+.1f"), lambda r: r.step_pct or 0.0, 60),
    FigureColumn("ring %", lambda r: _or_dash(_click(r), "+.1f"), lambda r: _click(r) or 0.0),
)


def _click(row: GearRow) -> float | None:
    return row.rear_step.step_pct if row.rear_step else None


def figures_page(study: Study, look: Look, sorting: Sorting) -> Page:
    """The table and, below it, what the figures rest on."""
    rows = sorted(study.rows, key=FIGURES[sorting.column].key, reverse=sorting.falling)
    shown = [f for f in FIGURES if look.width >= f.room]
    sign = "v" if sorting.falling else "^"
    chosen = FIGURES[sorting.column].head
    heads = [Column(f"{f.head} {sign}" if f.head == chosen else f.head) for f in shown]
    marks = Column("marks", right=False)
    cells: list[list[str | Span]] = [
        [*(f.show(row) for f in shown), Span(_marks(row), _role(row))] for row in rows
    ]
    head, *body = (clip(line(" ", each), look.width) for each in table([*heads, marks], cells))
    verdict = verdict_line(figures_verdict(study), look)
    return Page((verdict, head), (*body, (), *_notes(study, look)))


def _marks(row: GearRow) -> str:
    """The gear's marks in words: a step over the limit is wide, one that stands out as well a jump."""
    words = {"stands-out": "jump", "big-jump": ""}
    words |= {"jump": "" if "stands-out" in row.flags else "wide"}
    words |= {"over-rollout": "over limit", "measure-rollout": "measure", "do-not-use": "do not use"}
    return ", ".join(word for flag in row.flags if (word := words.get(flag, flag)))


def _role(row: GearRow) -> Role:
    if {"do-not-use", "over-rollout"} & {*row.flags}:
        return Role.PROBLEM
    if "stands-out" in row.flags:
        return Role.JUMP
    return Role.WIDE if "jump" in row.flags else Role.OVERLAP


def _notes(study: Study, look: Look) -> list[Line]:
    rpm, wheel = study.bench.rider.cadence_rpm[1], study.wheel
    nominal = (
        "from the tyre marking, good to about 1 %" if wheel.source == "nominal" else "measured on the floor"
    )
    texts = [
        f"m: development per turn of the cranks. Circumference {wheel.m:.3f} m, {nominal}.",
        f"km/h at {rpm:.0f} rpm. inches: true diameter {wheel.diameter_in:.2f} in. "
        + (
            "gain needs crank.length_mm."
            if study.bench.crank.length_mm is None
            else "gain: way of bike per way of pedal."
        ),
        "step %: from the gear below in this bike; ring %: one click on the same ring.",
    ]
    return [each for text in texts for each in told(text, look.width - 1, Role.DIM, "  ")]
