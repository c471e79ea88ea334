"""The story of a change: the steps from a baseline to a bench in order, and what each of them did.

It is told of both setups alone, in the order of a mechanic's work: the way by which somebody came there, with
all that was tried and taken back, is not in it. So a saved file tells the same story as the screen.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from cogwright.core.common.units import percent
from cogwright.core.figures import Figures
from cogwright.core.parts.bin import Bin
from cogwright.core.setup.edits import AddSprocket, RemoveSprocket, SetTeeth
from cogwright.core.setup.model import Setup
from cogwright.core.setup.sprockets import Where, sprockets
from cogwright.core.worksheet.costing import costing
from cogwright.core.worksheet.sheet import Costing

#: So many cogs changed one by one are told one by one; more are another cassette.
_FEW: Final = 3


@dataclass(frozen=True, slots=True)
class StoryStep:
    """One step: the bike before and after it, with figures, and all parts that it takes up to there."""

    say: str
    before: Figures
    after: Figures
    parts_before: Costing
    parts_after: Costing

    @property
    def cost(self) -> float:
        """What its parts add to the known prices, in the bin's currency."""
        return self.parts_after.parts_cost - self.parts_before.parts_cost

    @property
    def unpriced(self) -> tuple[str, ...]:
        """Parts that come with it and have no known price."""
        return tuple(what for what in self.parts_after.unpriced if what not in self.parts_before.unpriced)

    @property
    def tells(self) -> bool:
        """Whether it changes any gear or the work; a chain that becomes too short is work."""
        was, now = self.before, self.after
        same = [g.development_m for g in was.gears] == [g.development_m for g in now.gears]
        work = [(item.what, item.price) for item in self.parts_before.on] != [
            (item.what, item.price) for item in self.parts_after.on
        ]
        return not same or work

    @property
    def low_pct(self) -> float:
        """Change of the lowest gear, %."""
        return percent(self.after.summary.lowest_m / self.before.summary.lowest_m)

    @property
    def high_pct(self) -> float:
        """Change of the highest gear, %."""
        return percent(self.after.summary.highest_m / self.before.summary.highest_m)

    @property
    def jumps(self) -> tuple[int, int]:
        """How many jumps that stand out there were, and are."""
        return self.before.summary.standing_out, self.after.summary.standing_out

    @property
    def over_limit(self) -> tuple[int, int]:
        """How many steps over the limit there were, and are, those that stand out among them."""
        return self.before.summary.jumps, self.after.summary.jumps

    @property
    def widest_pct(self) -> tuple[float, float]:
        """Largest step of a rear shift before and after, %; 0 where there is none."""
        return self.before.summary.worst_rear_step_pct, self.after.summary.worst_rear_step_pct

    @property
    def short_links(self) -> tuple[int, int]:
        """By how many links the chain was and is too short."""
        return self.before.chain.short_by or 0, self.after.chain.short_by or 0


@lru_cache(maxsize=16)
def story_of(baseline: Setup, bench: Setup, stock: Bin | None = None) -> tuple[StoryStep, ...]:
    """The steps, each on what the one before has left, under the bench's rider and limits; kept for a while.

    Ends of the steps multiply to the whole change, and known costs add up to that of its parts. What changes
    neither a gear nor the work is told with the next step that does.
    """
    start = _under(baseline, bench)
    before, parts = Figures(start), costing(start, start, stock)
    found: list[StoryStep] = []
    for say, setup in _states(start, bench):
        step = StoryStep(say, before, Figures(setup), parts, costing(start, setup, stock))
        if step.tells or setup == bench:
            found.append(step)
            before, parts = step.after, step.parts_after
    return tuple(found if found and found[-1].tells else found[:-1])


def _under(baseline: Setup, bench: Setup) -> Setup:
    """The baseline, for the bench's rider and by its limits: what is told is what the parts do."""
    same = ("name", "notes", "baseline", "rider", "limits", "wear", "log", "job")
    return baseline.model_copy(update={name: getattr(bench, name) for name in same})


def _states(now: Setup, bench: Setup) -> Iterator[tuple[str, Setup]]:
    """What is said of each step, and the setup after it; the last one is the bench."""
    for step in _STEPS:
        for say, after in step(now, bench):
            if after != now:
                yield say, after
                now = after
    if now != bench:
        yield "other facts", bench


def _wheel(now: Setup, bench: Setup) -> Iterator[tuple[str, Setup]]:
    if now.wheel != bench.wheel:
        size = bench.wheel.size if bench.wheel.size != now.wheel.size else None
        yield (
            f"wheel {size}" if size else "wheel measured anew",
            now.model_copy(update={"wheel": bench.wheel}),
        )


def _rings(now: Setup, bench: Setup) -> Iterator[tuple[str, Setup]]:
    yield from _one_by_one(now, bench, "ring")


def _crank(now: Setup, bench: Setup) -> Iterator[tuple[str, Setup]]:
    rung = _with_all(now, bench, "ring")
    if rung.crank != bench.crank:
        length = bench.crank.length_mm
        other = length is not None and rung.crank.length_mm not in {None, length}
        yield f"crank {length:g} mm" if other else "crank", now.model_copy(update={"crank": bench.crank})


def _cogs(now: Setup, bench: Setup) -> Iterator[tuple[str, Setup]]:
    was, had = bench.rear, now.rear
    few = len(set(was.cogs) ^ set(had.cogs)) <= 2 * _FEW and was.carriers == had.carriers
    if few and was.clicks == had.clicks and was.hub_ratios == had.hub_ratios:
        yield from _one_by_one(now, bench, "cog")
        return
    hub = was.hub_ratios != had.hub_ratios
    said = f"hub gear of {len(was.hub_ratios)}, " if hub and len(was.hub_ratios) > 1 else ""
    yield f"{said}cassette {_cassette(now)} to {_cassette(bench)}", now.model_copy(update={"rear": was})


def _cassette(of: Setup) -> str:
    cogs = of.rear.cogs
    return f"{cogs[0]}-{cogs[-1]} ({len(cogs)})" if len(cogs) > 1 else f"one cog {cogs[0]}"


def _one_by_one(now: Setup, bench: Setup, where: Where) -> Iterator[tuple[str, Setup]]:
    """Each new sprocket in the place of the nearest old one; what is left over comes off or goes on."""
    for edit in _edits(now, bench, where):
        now = edit.apply(now)
        yield _said(edit), now


def _said(edit: SetTeeth | AddSprocket | RemoveSprocket) -> str:
    if isinstance(edit, SetTeeth):
        return edit.say()
    return f"{edit.where} {edit.teeth} {'on' if isinstance(edit, AddSprocket) else 'off'}"


def _edits(now: Setup, bench: Setup, where: Where) -> Iterator[SetTeeth | AddSprocket | RemoveSprocket]:
    gone = [n for n in sprockets(now, where) if n not in sprockets(bench, where)]
    new = [n for n in sprockets(bench, where) if n not in sprockets(now, where)]
    while gone and new:
        old, put = min(((a, b) for a in gone for b in new), key=lambda pair: (abs(pair[0] - pair[1]), pair))
        gone.remove(old)
        new.remove(put)
        yield SetTeeth(where, old, put)
    yield from (AddSprocket(where, n) for n in new)
    yield from (RemoveSprocket(where, n) for n in gone)


def _with_all(now: Setup, bench: Setup, where: Where) -> Setup:
    for edit in _edits(now, bench, where):
        now = edit.apply(now)
    return now


def _table(name: str, said: Callable[[Setup], str]) -> Callable[[Setup, Setup], Iterator[tuple[str, Setup]]]:
    """A whole table of the file as one step."""

    def step(now: Setup, bench: Setup) -> Iterator[tuple[str, Setup]]:
        if getattr(now, name) != getattr(bench, name):
            yield said(bench), now.model_copy(update={name: getattr(bench, name)})

    return step


def _derailleur(bench: Setup) -> str:
    largest = bench.rear_derailleur.largest_cog
    return f"rear derailleur to cog {largest}" if largest else "rear derailleur"


def _chain(bench: Setup) -> str:
    return f"chain of {bench.chain.links} links" if bench.chain.links else "chain"


_STEPS: Final[tuple[Callable[[Setup, Setup], Iterator[tuple[str, Setup]]], ...]] = (
    _wheel,
    _rings,
    _crank,
    _cogs,
    _table("rear", lambda _: "cassette's other facts"),
    _table(
        "front_derailleur", lambda bench: "front derailleur" + (" off" if len(bench.crank.rings) == 1 else "")
    ),
    _table("rear_derailleur", _derailleur),
    _table("shifters", lambda _: "shifter"),
    _table("frame", lambda _: "frame"),
    _table("chain", _chain),
    _table("belt", lambda bench: "belt" if bench.belted else "belt off"),
)
