"""Even out the cassette on the bench: one swap, two, all cogs between its ends, or another cassette whole."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Final

from cogwright.core.gears.gears import gears_of
from cogwright.core.parts.bin import Bin
from cogwright.core.proposing.choices import CassetteChoice, with_cassette
from cogwright.core.proposing.common_teeth import RARE, rare_cogs
from cogwright.core.proposing.even_words import claim, fast_words, steps_words, title
from cogwright.core.proposing.kit_fit import judged
from cogwright.core.proposing.ladder import closeness, closest_where_fast, most_even, unevenness, worst_ratio
from cogwright.core.proposing.lost_range import lost_between
from cogwright.core.proposing.pool import Pool, all_tooth_counts, pinned
from cogwright.core.proposing.priced import priced
from cogwright.core.proposing.proposal import Proposal, swaps_between
from cogwright.core.setup.model import Setup

#: What is looked for: its kind, its mark, and how many new parts it may have.
_GOALS: Final = (
    ("cassette", "best of these ends", None),
    ("two-swaps", "best two swaps", 2),
    ("one-swap", "best single swap", 1),
)
_FAST: Final = "closer where fast"
_OTHER: Final = "other ends"


def even_out(
    setup: Setup,
    baseline: Setup | None = None,
    pool: Pool | None = None,
    pins: Iterable[int] = (),
    *,
    cassettes: Iterable[CassetteChoice] = (),
    stock: Bin | None = None,
) -> tuple[Proposal, ...]:
    """More even cassettes with the ends and the number of cogs of the one on the bench, best first.

    Put together out of a pool; without one out of every common tooth count first, and out of all of them
    where that makes it more even yet, marked as rare. `cassettes` may be put on whole as well, those of other
    ends after the others. Each of the same ends has fewer new parts than the one before it; what is no better
    than something with fewer new parts is left out, so that there are none when the cassette cannot be
    bettered. Raises CogwrightError for a pin that is not on the bike.
    """
    search = _Even(setup, baseline or setup, stock, tuple(cassettes), tuple(pins))
    if pool is not None:
        found = search.out_of(pool, "the bin and this bike")
        return (*found, *search.fast(pool, found), *search.other_ends())
    everything = all_tooth_counts(setup)
    common = Pool(tuple(p for p in everything.pieces if not rare_cogs(p.cogs, setup.rear.cogs)))
    found = search.out_of(common, "the common tooth counts")
    rare = search.out_of(everything, "all tooth counts")
    return (*found, *search.fast(common, found), *search.other_ends(), *_rarer(rare, found))


def _rarer(rare: Sequence[Proposal], common: Sequence[Proposal]) -> Iterator[Proposal]:
    """Of what is found with all tooth counts what betters the common ones, with what is hard to come by."""
    best = min((worth(one.cogs) for one in common), default=None)
    for one in rare:
        odd = rare_cogs(one.cogs)
        if odd and (best is None or worth(one.cogs) < best):
            named = " and ".join(map(str, odd))
            hard = f"cogs of {named} teeth are hard to come by"
            yield replace(one, marks=(*one.marks, RARE), notes=(*one.notes, hard))


def worth(cogs: tuple[int, ...]) -> tuple[float, int]:
    """How even a cassette is: its largest step, then how uneven the others are; less is better."""
    return worst_ratio(cogs), unevenness(cogs)


@dataclass(frozen=True)
class _Even:
    """One search: the bench, the bike as it is, and what may come on whole."""

    setup: Setup
    baseline: Setup
    stock: Bin | None
    cassettes: tuple[CassetteChoice, ...]
    pins: tuple[int, ...]

    @property
    def cogs(self) -> tuple[int, ...]:
        return self.setup.rear.cogs

    def out_of(self, pool: Pool, source: str) -> tuple[Proposal, ...]:
        """The best cassette of these ends with all new parts, with two and with one."""
        found: list[Proposal] = []
        best = worth(self.cogs)
        for kind, mark, new in reversed(_GOALS):
            cassette = self._best(pool, new)
            said = claim(kind, self.cogs, source)
            if cassette is not None and worth(cassette.cogs) < best:
                best = worth(cassette.cogs)
                found.insert(0, self._proposal(cassette, kind, mark, said))
            elif found:
                # More freedom betters nothing, so what there is is the best of this kind too.
                one = found[0]
                found[0] = replace(one, marks=(*one.marks, mark), reasons=(*one.reasons[:-1], said))
        return tuple(found)

    def fast(self, pool: Pool, found: Sequence[Proposal]) -> Iterator[Proposal]:
        """The cassette of these ends with its small steps in the fast gears, and no step larger than now."""
        source, stay = pinned(pool, self.setup, self.pins)
        ends = (self.cogs[0], self.cogs[-1])
        ladder = closest_where_fast(source.pieces, ends, len(self.cogs), stay, worst_ratio(self.cogs))
        if ladder is None or closeness(ladder.cogs) >= closeness(self.cogs):
            return
        if ladder.cogs not in {one.cogs for one in found}:
            made = self._made(ladder.cogs, ladder.carriers)
            yield self._proposal(made, "closer-fast", _FAST, fast_words(self.cogs, ladder.cogs))

    def other_ends(self) -> list[Proposal]:
        """Whole cassettes with other ends and as many cogs that are more even than the one on the bench."""
        if self.pins:
            return []
        ends = (self.cogs[0], self.cogs[-1])
        others = [c for c in self._whole if (c.cogs[0], c.cogs[-1]) != ends]
        better = sorted((c for c in others if worth(c.cogs) < worth(self.cogs)), key=lambda c: worth(c.cogs))
        said = "a whole cassette with other ends"
        return [self._proposal(one, "whole-cassette", _OTHER, said) for one in better]

    @cached_property
    def _whole(self) -> tuple[CassetteChoice, ...]:
        """Cassettes with as many cogs and of the same spacing that bring no problem that there is not now."""
        return tuple(one for one in self.cassettes if self._alike(one) and self._goes(one))

    def _alike(self, one: CassetteChoice) -> bool:
        families = {self.setup.rear.family, one.family} - {None}
        return len(families) < 2 and len(one.cogs) == len(self.cogs)

    def _goes(self, one: CassetteChoice) -> bool:
        return {*_named(with_cassette(self.setup, one))} <= {*_named(self.setup)}

    def _best(self, pool: Pool, new: int | None) -> CassetteChoice | None:
        source, stay = pinned(pool, self.setup, self.pins)
        ends = (self.cogs[0], self.cogs[-1])
        ladder = most_even(source.pieces, ends, len(self.cogs), stay, new)
        made = [] if ladder is None else [self._made(ladder.cogs, ladder.carriers)]
        whole = [] if stay or new is not None else [c for c in self._whole if (c.cogs[0], c.cogs[-1]) == ends]
        return min((*made, *whole), key=lambda one: worth(one.cogs), default=None)

    def _made(self, cogs: tuple[int, ...], carriers: tuple[tuple[int, ...], ...]) -> CassetteChoice:
        return replace(CassetteChoice.of(self.setup, on_bike=True), cogs=cogs, carriers=carriers)

    def _proposal(self, cassette: CassetteChoice, kind: str, mark: str, said: str) -> Proposal:
        found = priced(self.baseline, with_cassette(self.setup, cassette), self.stock)
        cogs = found.setup.rear.cogs
        swaps = swaps_between(self.cogs, cogs)
        return Proposal(
            kind=kind,
            setup=found.setup,
            title=title(cogs, swaps) if kind != "whole-cassette" else cassette.called(),
            swaps=swaps,
            lost=lost_between(found.setup, self.baseline),
            marks=(mark,),
            reasons=(*steps_words(self.cogs, cogs, self.setup.limits, swaps), said),
            **found.facts,
        )


def _named(setup: Setup) -> Iterator[str]:
    """The names of the checks that a setup does not pass, and the race limit at its own highest gear."""
    for problem in judged(setup).problems:
        name = problem.partition(":")[0]
        yield f"{name} {gears_of(setup)[-1].development_m:.6f}" if name == "rollout" else name
