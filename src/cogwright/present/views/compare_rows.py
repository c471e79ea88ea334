"""The rows of a comparison: what each figure is called, how it is written, and which way it is better."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

from cogwright.core.common.words import count
from cogwright.core.comparing.columns import BikeColumn, FitTally, SideBySide
from cogwright.core.fit.check import Status
from cogwright.present.clock import clock
from cogwright.present.extra_facts import ExtraFact, extra_facts

#: How good a fit is, the better the more.
_GRADES: Final = {Status.PROBLEM: 0.0, Status.CAUTION: 1.0, Status.OK: 2.0}
_NONE: Final = "-"


@dataclass(frozen=True, slots=True)
class Row:
    """A figure of every column. `key` is what the best is found by, the larger the better; None: no best.

    With `money` it is only compared within one currency; with `whole` only where every column has a key.
    """

    label: str
    show: Callable[[BikeColumn], str]
    key: Callable[[BikeColumn], float | None] | None = None
    money: bool = False
    whole: bool = False


def _less(value: float | None) -> float | None:
    return None if value is None else -value


def _teeth(sprockets: Sequence[int]) -> str:
    return " ".join(map(str, sprockets))


def _cogs(cogs: Sequence[int]) -> str:
    return f"{cogs[0]}-{cogs[-1]} ({len(cogs)})" if len(cogs) > 1 else _teeth(cogs)


def _change(column: BikeColumn, high: bool) -> str:
    against = column.study.comparison
    if against is None:
        return _NONE
    change = against.high_change_pct if high else against.low_change_pct
    return "as before" if abs(change) < 0.05 else f"{change:+.1f} %"


def _promise(column: BikeColumn) -> str:
    """A mark where the chain is too short for the lowest gear."""
    return " !" if column.promises else ""


def _step(column: BikeColumn) -> str:
    return f"{column.widest.step_pct:.1f} %" if column.widest else _NONE


def _where(column: BikeColumn) -> str:
    widest = column.widest
    if widest is None:
        return _NONE
    if widest.easier.cog == widest.harder.cog:
        return f"hub {widest.easier.position}-{widest.harder.position}"
    on = f" on {widest.easier.ring}" if len(column.setup.crank.rings) > 1 else ""
    return f"{widest.easier.cog}-{widest.harder.cog}{on}"


def _fit_words(found: FitTally) -> str:
    """How the worst of the checks came out, and how many came out so."""
    if found.worst is Status.OK:
        return "ok"
    if found.worst is Status.UNKNOWN:
        return f"{found.number} unknown"
    return count(found.number, found.worst.value)


def _grade(found: FitTally) -> float | None:
    """None where something is not known that may yet come out worse than what is."""
    return None if found.unknown and found.worst is not Status.PROBLEM else _GRADES[found.worst]


def _with_parts(column: BikeColumn) -> str:
    return _NONE if column.fit_with_parts is None else _fit_words(column.fit_with_parts)


def money(amount: float | None, currency: str) -> str:
    """An amount as it is paid, with its currency; in words where it is not known."""
    return "unknown" if amount is None else f"{amount:.2f} {currency}".rstrip()


def _parts(column: BikeColumn) -> str:
    sheet = column.sheet
    return _NONE if sheet is None else money(sheet.price, column.currency)


def _labour(column: BikeColumn) -> str:
    sheet = column.sheet
    if sheet is None:
        return _NONE
    return money(sheet.labour_cost, column.currency) if sheet.changes else money(0.0, column.currency)


def _total(column: BikeColumn) -> str:
    return _NONE if column.sheet is None else money(column.sheet.total, column.currency)


def _mass(column: BikeColumn) -> str:
    sheet = column.sheet
    if sheet is None:
        return _NONE
    if not sheet.changes:
        return "as before"
    part = "~" if sheet.unweighed else ""
    return "unknown" if sheet.weighs_nothing else f"{part}{sheet.mass_change_g:+.0f} g"


#: Before the figure of a fact that is not ok, and what that means.
MARKS: Final = {Status.CAUTION: "! ", Status.PROBLEM: "x "}
MARKED: Final = "Before a figure of the last rows: ! caution, x problem; 3 Fit and report say what to do."
_LARGE: Final = 1000.0
#: Units of which there may be a single one.
_ONE: Final = {"retainers": "retainer", "patches": "patch", "gears": "gear"}

ROWS: Final[tuple[Row, ...]] = (
    Row("rings", lambda c: _teeth(c.setup.crank.rings)),
    Row("cogs", lambda c: _cogs(c.setup.rear.cogs)),
    Row(
        "lowest m",
        lambda c: f"{c.study.summary.lowest_m:.2f}{_promise(c)}",
        lambda c: -c.study.summary.lowest_m,
    ),
    Row("  change", lambda c: _change(c, high=False)),
    Row("highest m", lambda c: f"{c.study.summary.highest_m:.2f}", lambda c: c.study.summary.highest_m),
    Row("  change", lambda c: _change(c, high=True)),
    Row("range", lambda c: f"{c.study.summary.range_pct:.0f} %", lambda c: c.study.summary.range_pct),
    Row("distinct gears", lambda c: str(c.study.summary.distinct), lambda c: float(c.study.summary.distinct)),
    Row("jumps", lambda c: str(c.study.summary.standing_out), lambda c: -float(c.study.summary.standing_out)),
    Row("  over limit", lambda c: str(c.study.summary.jumps), lambda c: -float(c.study.summary.jumps)),
    Row("largest step", _step, lambda c: _less(c.widest.step_pct if c.widest else None)),
    Row("  from cog", _where),
    Row(
        "steepest grade", lambda c: f"{c.ride.steepest_pct:.1f} %{_promise(c)}", lambda c: c.ride.steepest_pct
    ),
    Row(
        "  short effort",
        lambda c: f"{c.ride.steepest_short_pct:.1f} %{_promise(c)}",
        lambda c: c.ride.steepest_short_pct,
    ),
    Row("spins out", lambda c: f"{c.ride.spin_out_kmh:.1f} km/h", lambda c: c.ride.spin_out_kmh),
    Row("fit", lambda c: _fit_words(c.tally), lambda c: _grade(c.tally), whole=True),
    Row("chain, links", lambda c: c.chain_to_fit),
)
COURSE_ROWS: Final[tuple[Row, ...]] = (
    Row(
        "course, h:min:s",
        lambda c: clock(c.course.total_s) if c.course else _NONE,
        lambda c: _less(c.course.total_s if c.course else None),
    ),
    Row(
        "  grinding",
        lambda c: clock(c.course.grinding_s) if c.course else _NONE,
        lambda c: _less(c.course.grinding_s if c.course else None),
    ),
)
COST_ROWS: Final[tuple[Row, ...]] = (
    Row("parts", _parts, lambda c: _less(c.sheet.price if c.sheet else None), money=True),
    Row("labour about", _labour, lambda c: _less(c.sheet.labour_cost if c.sheet else None), money=True),
    Row("total about", _total, lambda c: _less(c.sheet.total if c.sheet else None), money=True),
    Row("mass", _mass, lambda c: _less(c.sheet.mass_change_g if c.sheet and not c.sheet.unweighed else None)),
)


#: The same with all parts of the order on: a chain that it renews is no longer short.
WITH_PARTS: Final = Row("  with parts on", _with_parts)


def rows_of(of: SideBySide) -> tuple[Row, ...]:
    """The rows that this comparison has: of a course where there is one, of money against a baseline."""
    course = COURSE_ROWS if any(column.course for column in of.all) else ()
    cost = COST_ROWS if of.baseline is not None else ()
    parts = (WITH_PARTS,) if parts_tell(of) else ()
    return (*ROWS[:13], *course, *ROWS[13:16], *parts, *ROWS[16:], *cost, *_extra_rows(of))


def parts_tell(of: SideBySide) -> bool:
    """Whether some fit comes out otherwise with the parts of its order on than its file stands."""
    return any(column.fit_with_parts not in {None, column.tally} for column in of.all)


def _extra_rows(of: SideBySide) -> list[Row]:
    """What some bikes have beside: a row for each fact that any of the columns gives."""
    names = dict.fromkeys(fact.name for column in of.all for fact in extra_facts(column.study))
    return [Row(name, _extra(name)) for name in names]


def marked(of: SideBySide) -> bool:
    """Whether a fact that only some bikes have is not ok in some column."""
    return any(fact.status in MARKS for column in of.all for fact in extra_facts(column.study))


def _extra(name: str) -> Callable[[BikeColumn], str]:
    def show(column: BikeColumn) -> str:
        found: ExtraFact | None = next((f for f in extra_facts(column.study) if f.name == name), None)
        if found is None:
            return _NONE
        if found.figure is None:
            return found.status.value
        # The mark first: it must not be what a narrow column cuts off.
        figure = f"{found.figure:.3g}" if abs(found.figure) < _LARGE else f"{found.figure:.0f}"
        unit = _ONE.get(found.unit, found.unit) if found.figure == 1 else found.unit
        return f"{MARKS.get(found.status, '')}{figure} {unit}".strip()

    return show


def best_of(row: Row, of: SideBySide) -> frozenset[int]:
    """Which of all columns are the best in a row as it is written; none where all read alike.

    Nor where they cannot be set against each other: sums of several currencies, a fit that is not all known.
    """
    if row.key is None or (row.money and len(of.currencies) > 1):
        return frozenset()
    values = [row.key(column) for column in of.all]
    shown = [row.show(column) for column in of.all]
    known = [i for i, value in enumerate(values) if value is not None]
    if len({shown[i] for i in known}) < 2 or (row.whole and None in values):
        return frozenset()
    best = max(known, key=lambda i: values[i] or 0.0)
    return frozenset(i for i in known if shown[i] == shown[best])
