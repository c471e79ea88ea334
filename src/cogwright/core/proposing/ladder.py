"""The most even cassette out of given pieces: exact, by dynamic programming.

A piece is a loose cog or a carrier of riveted cogs. A carrier comes whole, and nothing goes between its
cogs, because their distance is fixed by the rivets. Smallest largest step first, then least sum of
squares of the log steps; the two can disagree (10-52 in 12 cogs), so the order matters. What is equal in
both is settled by fewer new pieces, then by the smaller cogs, whose steps lie in the fast gears.
"""

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import Final

#: Sums of squared logs are added as whole numbers of this size, so that the same steps in another order
#: make the same sum, and a tie is a tie.
_GRAIN: Final = 2.0**-50


@dataclass(frozen=True)
class CassettePiece:
    """A loose cog, or a carrier's cogs, ascending; `new` when it is not on the bike yet."""

    cogs: tuple[int, ...]
    new: bool = True

    @cached_property
    def worst(self) -> float:
        """The largest step within the piece, as a ratio; 1 for a loose cog."""
        return worst_ratio(self.cogs)


@dataclass(frozen=True)
class Ladder:
    """A cassette made of pieces, smallest cog first."""

    pieces: tuple[CassettePiece, ...]

    @cached_property
    def cogs(self) -> tuple[int, ...]:
        """All cogs, ascending."""
        return tuple(n for piece in self.pieces for n in piece.cogs)

    @property
    def carriers(self) -> tuple[tuple[int, ...], ...]:
        """The carriers among the pieces."""
        return tuple(piece.cogs for piece in self.pieces if len(piece.cogs) > 1)


def worst_ratio(cogs: Sequence[int]) -> float:
    """The largest of the steps between neighbours, as a ratio; 1 for a single cog.

    Two unlike ratios of tooth counts up to 130 differ by 1/16900 at least and like ones divide to the
    same float, so that comparing these floats is comparing the fractions themselves.

    >>> worst_ratio((14, 17, 20, 24, 28)) == 17 / 14
    True
    """
    return max((b / a for a, b in pairwise(cogs)), default=1.0)


def unevenness(cogs: Sequence[int]) -> int:
    """Sum of squares of the log steps, as a whole number of grains, 2**-50."""
    return sum(_square(b / a) for a, b in pairwise(cogs))


def closeness(cogs: Sequence[int]) -> int:
    """How close the gears are where they are fast: the squares of the log steps, each by its gear's speed.

    In grains; less is closer. The speed is that of the middle of the step, so that a step at 12 teeth counts
    twice as much as one of that size at 24.
    """
    return sum(_fast(a, b) for a, b in pairwise(cogs))


def _square(ratio: float) -> int:
    return round(math.log(ratio) ** 2 / _GRAIN)


def _evenly(small: int, large: int) -> int:
    return _square(large / small)


def _fast(small: int, large: int) -> int:
    return round(_square(large / small) / math.sqrt(small * large))


def most_even(
    pieces: Iterable[CassettePiece],
    ends: tuple[int, int],
    count: int,
    pins: Sequence[int] = (),
    new: int | None = None,
) -> Ladder | None:
    """The most even cassette of `count` cogs from `ends[0]` to `ends[1]` out of the pieces.

    No gap may pass over a tooth count in `pins`; at most `new` new pieces are put in, without limit for None.
    None when the pieces make no such cassette.

    >>> free = [CassettePiece((n,)) for n in range(13, 27)]
    >>> most_even(free, (13, 26), 6).cogs
    (13, 15, 17, 20, 23, 26)
    """
    search = _search(pieces, ends, count, pins, new)
    worst = search.smallest_worst()
    return None if worst is None else search.least_uneven(worst)


def closest_where_fast(
    pieces: Iterable[CassettePiece], ends: tuple[int, int], count: int, pins: Sequence[int], worst: float
) -> Ladder | None:
    """The cassette of `count` cogs whose gears are closest where they are fast, with no step over `worst`.

    None when the pieces make no such cassette. The example is that of all combinations tried one by one.

    >>> free = [CassettePiece((n,)) for n in range(11, 29)]
    >>> closest_where_fast(free, (11, 28), 8, (), 1.25).cogs
    (11, 12, 14, 16, 18, 21, 24, 28)
    """
    search = _search(pieces, ends, count, pins, None)
    return search.least_uneven(worst, _fast)


def _search(
    pieces: Iterable[CassettePiece], ends: tuple[int, int], count: int, pins: Sequence[int], new: int | None
) -> "_Search":
    low, high = ends
    within = [p for p in pieces if low <= p.cogs[0] and p.cogs[-1] <= high and not _passes_over(p, pins)]
    return _Search(tuple(sorted(within, key=lambda p: p.cogs)), ends, count, tuple(sorted(pins)), new)


def _passes_over(piece: CassettePiece, pins: Sequence[int]) -> bool:
    return any(piece.cogs[0] < pin < piece.cogs[-1] and pin not in piece.cogs for pin in pins)


@dataclass(frozen=True)
class _Search:
    """One search: pieces by their cogs; a state is a piece, the cogs and the new pieces from it on."""

    pieces: tuple[CassettePiece, ...]
    ends: tuple[int, int]
    count: int
    pins: tuple[int, ...]
    new: int | None

    @cached_property
    def followers(self) -> tuple[tuple[tuple[int, float], ...], ...]:
        """For each piece those that can stand next to it, and the step to each."""
        return tuple(
            tuple((at, q.cogs[0] / p.cogs[-1]) for at, q in enumerate(self.pieces) if self._beside(p, q))
            for p in self.pieces
        )

    def _beside(self, piece: CassettePiece, after: CassettePiece) -> bool:
        low, high = piece.cogs[-1], after.cogs[0]
        return low < high and not any(low < pin < high for pin in self.pins)

    def _spent(self, piece: CassettePiece) -> int:
        return int(piece.new) if self.new is not None else 0

    def _states(self, at: int) -> list[tuple[int, int]]:
        """(cogs, new pieces) that can stand from a piece on, itself included."""
        piece = self.pieces[at]
        fresh = range(self._spent(piece), (self.new or 0) + 1)
        return [(cogs, new) for cogs in range(len(piece.cogs), self.count + 1) for new in fresh]

    def _is_last(self, at: int, cogs: int) -> bool:
        piece = self.pieces[at]
        return piece.cogs[-1] == self.ends[1] and cogs == len(piece.cogs)

    def _firsts(self) -> list[tuple[int, int, int]]:
        room = self.new or 0
        return [(at, self.count, room) for at, p in enumerate(self.pieces) if p.cogs[0] == self.ends[0]]

    def smallest_worst(self) -> float | None:
        """The smallest largest step, as a ratio."""
        best: dict[tuple[int, int, int], float] = {}
        for at in reversed(range(len(self.pieces))):
            piece = self.pieces[at]
            for cogs, new in self._states(at):
                rest = (cogs - len(piece.cogs), new - self._spent(piece))
                tails = [max(step, best[q, *rest]) for q, step in self.followers[at] if (q, *rest) in best]
                if self._is_last(at, cogs):
                    tails.append(1.0)
                if tails:
                    best[at, cogs, new] = max(piece.worst, min(tails))
        return min((best[first] for first in self._firsts() if first in best), default=None)

    def least_uneven(self, worst: float, uneven: Callable[[int, int], int] = _evenly) -> Ladder | None:
        """The ladder of least unevenness among those without a step over `worst`.

        `uneven` says what the step from one cog to the next counts.
        """
        best: dict[tuple[int, int, int], _Tail] = {}
        for at in reversed(range(len(self.pieces))):
            piece = self.pieces[at]
            if piece.worst > worst:
                continue
            steps = [
                (q, uneven(piece.cogs[-1], self.pieces[q].cogs[0]))
                for q, step in self.followers[at]
                if step <= worst
            ]
            within = sum(uneven(a, b) for a, b in pairwise(piece.cogs))
            for cogs, new in self._states(at):
                rest = (cogs - len(piece.cogs), new - self._spent(piece))
                tails = [
                    _longer(piece, within + one, best[q, *rest]) for q, one in steps if (q, *rest) in best
                ]
                if self._is_last(at, cogs):
                    tails.append((within, int(piece.new), piece.cogs, (piece,)))
                if tails:
                    best[at, cogs, new] = min(tails, key=_rank)
        found = [best[first] for first in self._firsts() if first in best]
        return Ladder(min(found, key=_rank)[3]) if found else None


#: Unevenness, new pieces, cogs and pieces from a piece on.
_Tail = tuple[int, int, tuple[int, ...], tuple[CassettePiece, ...]]


def _longer(piece: CassettePiece, counts: int, tail: _Tail) -> _Tail:
    uneven, new, cogs, pieces = tail
    return (counts + uneven, piece.new + new, piece.cogs + cogs, (piece, *pieces))


def _rank(tail: _Tail) -> tuple[int, int, tuple[int, ...]]:
    return tail[:3]
