"""The rows of the Gears view: which gears they are, in which order, and which stay in sight."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Final, Literal, NamedTuple

from cogwright.core.figures import GearRow
from cogwright.core.gears.gears import Gear
from cogwright.core.gears.stood_before import Before, nearest
from cogwright.core.study import Study
from cogwright.present.chart_style import STANDARD, BaseMode, ChartStyle, RowOrder

RowKind = Literal["bench", "lost", "hole", "gone"]
#: Of more moved gears than this none is kept in sight: then nearly all have moved.
_FEW_MOVED: Final = 4
#: Steps that look alike, %: a tenth is what is shown.
_ALIKE_PCT: Final = 0.05


class ChartRow(NamedTuple):
    """One row of the chart: a gear of the bench with all about it, or one of the baseline that is gone.

    `before` is what stood there before, `was_pct` the step that was there where it has changed. `same_as` is
    the nearest gear of another ring or hub gear that a rider cannot tell from it. `felt` says of a lost gear
    whether a rider misses it; `folded` are other lost gears, which have no row of their own.
    """

    gear: Gear
    kind: RowKind
    row: GearRow | None = None
    before: Before | None = None
    was_pct: float | None = None
    same_as: Gear | None = None
    new: bool = False
    felt: bool = True
    folded: tuple[Gear, ...] = ()

    @property
    def step_pct(self) -> float | None:
        """The step of one rear click on the gear's own ring, from the next easier one."""
        rear = self.row.rear_step if self.row else None
        return rear.step_pct if rear else None

    @property
    def moved(self) -> bool:
        """Whether it is another gear than the one of its place before."""
        old = self.before
        return old is not None and old.same_place and old.gear.development_m != self.gear.development_m


def chart_rows(study: Study, style: ChartStyle = STANDARD) -> tuple[ChartRow, ...]:
    """The rows, easiest first or ring by ring; what is lost at an end stands at that end.

    A gear that bench and baseline share stands there once.
    """
    found = [*_bench_rows(study, style.baseline)]
    found += _base_rows(study, style.baseline, found)
    found.sort(key=lambda entry: _place(study, entry, style.rows is RowOrder.RING))
    return tuple(found)


def rows_within(study: Study, rows: Sequence[ChartRow], room: int) -> tuple[ChartRow, ...]:
    """The rows as they are where there is room for all; else the gears lost at an end share one row."""
    return tuple(rows if len(rows) <= room else _folded(study, rows))


def _bench_rows(study: Study, mode: BaseMode) -> Iterator[ChartRow]:
    twins, steps = _twins(study), {step.harder: step.step_pct for step in study.base_steps}
    had, against = frozenset(study.base_gears), mode is not BaseMode.BENCH
    for row in study.rows:
        before = study.before.get(row.gear) if against else None
        yield ChartRow(
            row.gear,
            "bench",
            row,
            before=before if mode is BaseMode.ROW else None,
            was_pct=_was_pct(row, before, steps),
            same_as=twins.get(row.gear),
            new=before is not None and mode is BaseMode.BOTH and row.gear not in had,
        )


def _was_pct(row: GearRow, before: Before | None, steps: Mapping[Gear, float]) -> float | None:
    """The step that was at a gear's place, where it has changed; `steps` are the old ones by their gears."""
    old = steps.get(before.gear) if before is not None and before.same_place else None
    now = row.rear_step.step_pct if row.rear_step else None
    changed = old is not None and (now is None or abs(now - old) >= _ALIKE_PCT)
    return old if changed else None


def _twins(study: Study) -> dict[Gear, Gear]:
    """Of each gear the nearest that a rider cannot tell from it, of another ring or gear of the hub."""
    found: dict[Gear, Gear] = {}
    for group in study.overlap_groups:
        for gear in group:
            others = [each for each in group if (each.ring, each.hub) != (gear.ring, gear.hub)]
            found |= {gear: nearest(gear, others)} if others else {}
    return found


def _base_rows(study: Study, mode: BaseMode, shown: Sequence[ChartRow]) -> list[ChartRow]:
    """The gears of the baseline that have a row of their own."""
    against, felt = study.comparison, study.felt
    if against is None or felt is None or mode is BaseMode.BENCH:
        return []
    missed = {*felt.lost_low, *felt.lost_high}
    lost = [ChartRow(g, "lost", felt=g in missed) for g in (*against.lost_low, *against.lost_high)]
    seen = {entry.before.gear for entry in shown if entry.moved and entry.before is not None}
    holes = [ChartRow(hole.gear, "hole") for hole in against.holes if hole.gear not in seen]
    told = {*study.gears, *(row.gear for row in (*lost, *holes))}
    gone = study.base_gears if mode is BaseMode.BOTH else ()
    return [*lost, *holes, *(ChartRow(gear, "gone") for gear in gone if gear not in told)]


def _place(study: Study, entry: ChartRow, rings: bool) -> tuple[int, int, float, bool]:
    """What the rows are sorted by; the bench comes before the baseline where they tie."""
    gear, against = entry.gear, study.comparison
    end = 0
    if against is not None and entry.kind == "lost":
        end = -1 if gear in against.lost_low else 1
    ring = 0
    if rings and not end:
        on_bench = gear.ring in study.bench.crank.rings
        ring = gear.ring if on_bench else nearest(gear, study.gears).ring
    return end, ring, gear.development_m, entry.kind != "bench"


def _folded(study: Study, rows: Sequence[ChartRow]) -> list[ChartRow]:
    """The same with what is lost at each end in one row, that of the outermost gear."""
    against = study.comparison
    assert against is not None or not any(row.kind == "lost" for row in rows)
    if against is None:
        return list(rows)
    ends: Mapping[Gear, tuple[Gear, ...]] = {
        end[at]: tuple(gear for gear in end if gear != end[at])
        for end, at in ((against.lost_low, 0), (against.lost_high, -1))
        if end
    }
    return [
        row._replace(folded=ends[row.gear]) if row.kind == "lost" else row
        for row in rows
        if row.kind != "lost" or row.gear in ends
    ]


def largest_step(rows: Sequence[ChartRow]) -> int | None:
    """The row of the jump that stands out most, else of the largest step of a click; None without any."""
    clicks = {at: row.row.rear_step for at, row in enumerate(rows) if row.row is not None}
    steps = [(click.stands_out, click.step_pct, -at) for at, click in clicks.items() if click is not None]
    return -max(steps)[2] if steps else None


def kept_in_sight(rows: Sequence[ChartRow]) -> tuple[int, ...]:
    """The rows that are not to be scrolled away, the most important first."""
    bench = [at for at, row in enumerate(rows) if row.kind == "bench"]
    easiest = min(bench, key=lambda at: rows[at].gear.development_m)
    hardest = max(bench, key=lambda at: rows[at].gear.development_m)
    lost = [at for at, row in enumerate(rows) if row.kind == "lost"]
    moved = [at for at in bench if rows[at].moved]
    worst = largest_step(rows)
    first = [*lost[:1], *lost[-1:], *([] if worst is None else [worst])]
    few = moved if len(moved) <= _FEW_MOVED else []
    return tuple(dict.fromkeys([*first, easiest, hardest, *few, *lost]))
