"""The Gears view: one row a gear, easiest first, with its bar, figures and marks."""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from typing import Literal

from cogwright.core.figures import GearRow
from cogwright.core.gears.gears import Gear, speed_kmh
from cogwright.core.gears.rollout import Verdict
from cogwright.core.study import Study
from cogwright.present.bars import Bar, BarKind, draw_bars
from cogwright.present.lines import Line, Look, Page, Role, Span, clip, line

RowKind = Literal["bench", "lost", "hole", "gone"]
_RING_ROLES = (Role.BENCH, Role.BENCH_2, Role.BENCH_3)


class BaseMode(Enum):
    """How the baseline is shown."""

    LOST = "what is lost"
    BOTH = "both in full"
    BENCH = "bench alone"

    def next(self) -> "BaseMode":
        """The next of the three ways."""
        modes = list(BaseMode)
        return modes[(modes.index(self) + 1) % len(modes)]


@dataclass(frozen=True, slots=True)
class ChartRow:
    """One row of the chart: a gear of the bench with all about it, or one of the baseline that is gone."""

    gear: Gear
    kind: RowKind
    row: GearRow | None = None
    new: bool = False


@dataclass(frozen=True, slots=True)
class Columns:
    """Which columns there is room for, and how wide the bars are."""

    label: int
    bar: int
    step: bool
    click: bool
    speed: bool
    marks: int


def chart_rows(study: Study, mode: BaseMode) -> tuple[ChartRow, ...]:
    """The rows of the chart in order of development; the bench before the baseline where they tie.

    A gear that bench and baseline share stands there once.
    """
    had = set(study.base_gears)
    both = bool(had) and mode is BaseMode.BOTH
    found = [ChartRow(row.gear, "bench", row, both and row.gear not in had) for row in study.rows]
    found += [ChartRow(gear, kind) for gear, kind in _baseline(study, mode)]
    return tuple(sorted(found, key=lambda e: (e.gear.development_m, e.kind != "bench")))


def _baseline(study: Study, mode: BaseMode) -> list[tuple[Gear, RowKind]]:
    against = study.comparison
    if against is None or mode is BaseMode.BENCH:
        return []
    missed: dict[Gear, RowKind] = {hole.gear: "hole" for hole in against.holes}
    missed |= dict.fromkeys((*against.lost_low, *against.lost_high), "lost")
    if mode is BaseMode.LOST:
        return list(missed.items())
    kept = set(study.gears)
    return [(gear, missed.get(gear, "gone")) for gear in study.base_gears if gear not in kept]


def columns(study: Study, shown: Sequence[ChartRow], width: int) -> Columns:
    """Columns for a width in cells: what matters least goes first."""
    label = max(len(entry.gear.label) for entry in shown) + 1
    many = len({(e.gear.ring, e.gear.hub) for e in shown if e.kind == "bench"}) > 1
    click = many and len(study.bench.rear.cogs) > 1
    speed, marks = width >= 60, 13 if width >= 72 else 8
    step = width >= 48
    click = click and width >= 72
    fixed = 2 + label + 6 + 8 * step + 8 * click + 7 * speed + marks
    return Columns(label, max(width - fixed, 4), step, click, speed, marks)


def gears_page(study: Study, look: Look, mode: BaseMode = BaseMode.LOST) -> Page:
    """The chart: its head, and a line a gear."""
    shown = chart_rows(study, mode)
    room = columns(study, shown, look.width)
    top = max(entry.gear.development_m for entry in shown)
    bars = _bars(shown, top, room.bar, look)
    rows = tuple(
        clip(_row(study, entry, bar, room, look), look.width) for entry, bar in zip(shown, bars, strict=True)
    )
    return Page((clip(_head(study, room), look.width),), rows)


def _bars(shown: Sequence[ChartRow], top: float, width: int, look: Look) -> list[str]:
    kinds: dict[RowKind, BarKind] = {"bench": "bench", "gone": "base", "lost": "lost", "hole": "lost"}
    bars = [Bar(entry.gear.development_m, kinds[entry.kind]) for entry in shown]
    return draw_bars(bars, top, width, look.glyphs)


def _head(study: Study, room: Columns) -> Line:
    rpm = f"km/h at {study.bench.rider.cadence_rpm[1]:.0f} rpm"
    text = " " + "gear".ljust(room.label) + "development".ljust(room.bar)[: room.bar] + " " + "m".rjust(6)
    text += "step %".rjust(8) if room.step else ""
    text += "click %".rjust(8) if room.click else ""
    text += ("km/h" if room.speed else "").rjust(7 if room.speed else 0)
    if room.bar > 34 and room.speed:
        spot = 1 + room.label + room.bar - len(rpm)
        text = text[:spot] + rpm + text[spot + len(rpm) :]
    return (Span(text, Role.HEAD),)


def _row(study: Study, entry: ChartRow, bar: str, room: Columns, look: Look) -> Line:
    role = {"bench": Role.TEXT, "gone": Role.BASE, "lost": Role.LOST, "hole": Role.LOST}[entry.kind]
    paint = _paint(study, entry) if entry.kind == "bench" else role
    gear = entry.gear
    rpm = study.bench.rider.cadence_rpm[1]
    return line(
        Span(" " + gear.label.ljust(room.label), role),
        Span(bar, paint),
        Span(f" {gear.development_m:6.2f}", role),
        *_steps(entry, room),
        Span(f"{speed_kmh(gear.development_m, rpm):7.1f}" if room.speed else "", role),
        " ",
        *_marks(entry, room.marks > 8, look),
    )


def _steps(entry: ChartRow, room: Columns) -> list[Span]:
    row = entry.row
    rear = row.rear_step if row else None
    click = (rear.step_pct if rear else None, _jump_role(row))
    step = (row.step_pct if row else None, Role.DIM if room.click else _jump_role(row))
    chosen = [step] * room.step + [click] * room.click
    return [Span(f"{value:+8.1f}" if value is not None else " " * 8, role) for value, role in chosen]


def _jump_role(row: GearRow | None) -> Role:
    rear = row.rear_step if row else None
    if rear is None or not rear.jump:
        return Role.TEXT
    return Role.BIG_JUMP if rear.big_jump else Role.JUMP


def _paint(study: Study, entry: ChartRow) -> Role:
    """Rings side by side differ in colour too; the label says which is which."""
    return _RING_ROLES[study.bench.crank.rings.index(entry.gear.ring) % len(_RING_ROLES)]


def _marks(entry: ChartRow, full: bool, look: Look) -> list[Span]:
    if entry.row is None:
        return [Span(entry.kind, Role.BASE if entry.kind == "gone" else Role.LOST)]
    marks = _bench_marks(entry.row, full, look)
    if entry.new:
        marks.append(Span("new", Role.GAINED))
    return [part for mark in marks for part in (mark, Span(" "))]


def _bench_marks(row: GearRow, full: bool, look: Look) -> list[Span]:
    marks: list[Span] = []
    if row.rear_step is not None and row.rear_step.jump:
        sign = look.glyphs.jump * (2 if row.rear_step.big_jump else 1)
        marks.append(Span(f"{sign} jump" if full else sign, _jump_role(row)))
    if row.verdict is Verdict.FAIL:
        marks.append(Span("too long", Role.PROBLEM))
    if row.verdict is Verdict.TOO_CLOSE:
        marks.append(Span("measure", Role.CAUTION))
    if row.overlaps:
        marks.append(Span("overlap" if full and not marks else "=", Role.OVERLAP))
    return marks
