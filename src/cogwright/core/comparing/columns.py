"""One column of a comparison: a setup with all that is set side by side, worked out where it always is."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from typing import Final, NamedTuple

from cogwright.core.comparing.naming import LETTERS, candidate_names
from cogwright.core.fit.check import Status
from cogwright.core.gears.steps import RearStep
from cogwright.core.parts.bin import Bin
from cogwright.core.riding.course import Course
from cogwright.core.riding.course_ride import CourseRide, on_course
from cogwright.core.riding.grades import Ride, ride_of
from cogwright.core.setup.model import Setup
from cogwright.core.study import Study, study
from cogwright.core.worksheet.build import order_sheet
from cogwright.core.worksheet.sheet import Job, OrderSheet

#: The worse, the earlier.
_WORST_FIRST: Final = (Status.PROBLEM, Status.CAUTION, Status.UNKNOWN, Status.OK)


class FitTally(NamedTuple):
    """How the worst check came out, how many came out so, and how many cannot be made."""

    worst: Status
    number: int
    unknown: int


def _tally(of: Study) -> FitTally:
    found = Counter(check.status for check in of.fit)
    worst = next((status for status in _WORST_FIRST if found[status]), Status.OK)
    return FitTally(worst, found[worst], found[Status.UNKNOWN])


@dataclass(frozen=True)
class BikeColumn:
    """A setup, its study against the baseline, the road, and what it takes; without a baseline no sheet."""

    study: Study
    course: CourseRide | None
    sheet: OrderSheet | None

    @property
    def setup(self) -> Setup:
        """What the column is of."""
        return self.study.bench

    @cached_property
    def ride(self) -> Ride:
        """The gears for the rider."""
        return ride_of(self.study)

    @property
    def widest(self) -> RearStep | None:
        """The largest step of one rear shift; None where there is none."""
        return max(self.study.rear_steps, key=lambda step: step.step_pct, default=None)

    @property
    def promises(self) -> bool:
        """Whether the lowest gear takes a longer chain than the setup has."""
        return self.study.gears[0] in self.ride.beyond_chain

    @cached_property
    def tally(self) -> FitTally:
        """The fit of the bike as its file stands."""
        return _tally(self.study)

    @cached_property
    def fit_with_parts(self) -> FitTally | None:
        """The fit with the parts of the order on; None without an order."""
        if self.sheet is None:
            return None
        after = self.sheet.after
        return self.tally if after is self.setup else _tally(replace(self.study, bench=after))

    @property
    def chain_to_fit(self) -> str:
        """What becomes of the chain, in links."""
        for change in self.sheet.changes if self.sheet else ():
            if change.chain is not None and change.job in {Job.NEW_CHAIN, Job.CUT_CHAIN}:
                links = change.chain.links
                what = "new" if change.job is Job.NEW_CHAIN else "cut"
                return f"{links} {what}" if links else f"{what}, by eye"
        if self.setup.belted:
            return "belt"
        links = self.setup.chain.links
        return f"{links} as is" if links else "as is"

    @property
    def currency(self) -> str:
        """The currency of its prices; empty where nothing is priced."""
        return self.sheet.currency if self.sheet and self.sheet.stock else ""


@dataclass(frozen=True)
class SideBySide:
    """The baseline's column, if there is one, and the candidates', each with a mark and a name."""

    baseline: BikeColumn | None
    columns: tuple[BikeColumn, ...]
    names: tuple[str, ...]
    marks: str

    @property
    def all(self) -> tuple[BikeColumn, ...]:
        """Every column, the baseline's first."""
        return (*((self.baseline,) if self.baseline else ()), *self.columns)

    @property
    def currencies(self) -> tuple[str, ...]:
        """The currencies that prices are in: sums of several cannot be set against each other."""
        return tuple(sorted({column.currency for column in self.columns if column.currency}))

    @property
    def one_rider(self) -> bool:
        """Whether all candidates are ridden by the same person on the same road."""
        return len({_person(column.setup) for column in self.columns}) < 2


def _person(setup: Setup) -> object:
    own = {"bike_kg": 0.0, "load_kg": 0.0, "crr": 0.0, "chain_efficiency": None}
    return setup.rider.model_copy(update=own)


def side_by_side(
    baseline: Setup | None,
    benches: Sequence[Setup],
    course: Course | None = None,
    stocks: Sequence[Bin | None] = (),
    marks: str = LETTERS,
) -> SideBySide:
    """All candidates against one baseline, each priced with its own bin; the baseline with the first rider.

    `marks` has a character for each. Raises ValueError for more candidates than there are marks.
    """
    if len(benches) > len(marks):
        raise ValueError(f"{len(marks)} candidates at most")
    bins = [*stocks, *[None] * (len(benches) - len(stocks))]
    columns = tuple(column_of(b, baseline, course, stock) for b, stock in zip(benches, bins, strict=True))
    return SideBySide(
        baseline_column(baseline, benches[0] if benches else baseline, course) if baseline else None,
        columns,
        candidate_names(baseline, benches),
        marks[: len(benches)],
    )


@lru_cache(maxsize=16)
def column_of(bench: Setup, baseline: Setup | None, course: Course | None, stock: Bin | None) -> BikeColumn:
    """A candidate's column; kept for those last seen."""
    of = study(bench, baseline)
    ride = on_course(of, course).bench if course is not None else None
    return BikeColumn(of, ride, order_sheet(of, stock))


def baseline_column(baseline: Setup, bench: Setup | None, course: Course | None) -> BikeColumn:
    """The baseline's column: the bike as it was under the rider of the bench, as every study has it."""
    who = bench.rider if bench else baseline.rider
    own = {name: getattr(baseline.rider, name) for name in ("bike_kg", "load_kg", "crr", "chain_efficiency")}
    ridden = baseline.model_copy(update={"rider": who.model_copy(update=own)})
    return column_of(ridden, None, course, None)
