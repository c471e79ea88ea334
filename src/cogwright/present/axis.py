"""An axis in one row of cells: values over what is drawn, marks at round values, rails at old ends."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import Self

from cogwright.present.glyphs import Glyphs
from cogwright.present.lines import Line, Role, Span
from cogwright.present.scale import Scale, ticks


@dataclass(frozen=True)
class Axis:
    """The scale with what stands in the cells that nothing covers."""

    scale: Scale
    glyphs: Glyphs
    texts: tuple[tuple[int, str], ...]
    rails: tuple[int, ...] = ()
    needed: int | None = None

    @classmethod
    def on(
        cls,
        scale: Scale,
        glyphs: Glyphs,
        rails_m: Sequence[float] = (),
        per_m: float = 1.0,
        needed_m: float | None = None,
    ) -> Self:
        """The axis of a scale, its values in `per_m` units a metre, with rails at some developments, m.

        A development that is needed has a line through all rows.

        >>> from cogwright.present.glyphs import ASCII
        >>> from cogwright.present.lines import plain
        >>> axis = Axis.on(Scale.over([2.0, 8.0], 24), ASCII, [2.2])
        >>> plain(axis.head), plain(axis.under(axis.bar(2.5, 5.0, Role.BENCH)))
        (' 2|    3   4   5 6  7 8', " '|  ##########' '  ' '")
        """
        return cls._kept(scale, glyphs, tuple(rails_m), per_m, needed_m)

    @classmethod
    @lru_cache(maxsize=16)
    def _kept(
        cls, scale: Scale, glyphs: Glyphs, rails_m: tuple[float, ...], per_m: float, needed_m: float | None
    ) -> Self:
        """Few edits change the axis, and what it has worked out already it need not again."""
        texts = tuple((tick.cell, tick.text) for tick in ticks(scale, per_m))
        needed = None if needed_m is None else scale.cell(needed_m)
        return cls(scale, glyphs, texts, tuple(map(scale.cell, rails_m)), needed)

    @cached_property
    def marks(self) -> Mapping[int, Span]:
        """What stands in which cell: rails before grid marks."""
        grid = {at: Span(self.glyphs.grid, Role.GRID) for at, _ in self.texts}
        return grid | {at: Span(self.glyphs.rail, Role.BASE) for at in self.rails}

    @cached_property
    def head(self) -> Line:
        """The values over the places where they are, and the rails where there is a blank."""
        cells: list[Span] = [Span(" ", Role.HEAD)] * self.scale.cells
        for at in self.rails:
            cells[at] = Span(self.glyphs.rail, Role.BASE)
        for at, text in self.texts:
            cells[at : at + len(text)] = [Span(char, Role.HEAD) for char in text]
        return joined(cells)

    def under(self, drawn: Line) -> Line:
        """What is drawn, a cell a character, and the marks where there is none of it."""
        drawn = (*drawn, Span(" " * (self.scale.cells - sum(len(text) for text, _ in drawn))))
        text = "".join(text for text, _ in drawn)
        put = {at: mark for at, mark in self.marks.items() if text[at] == " "}
        if self.needed is not None:
            put[self.needed] = Span(self.glyphs.needed, Role.CAUTION)
        return joined(_laid_over(drawn, sorted(put.items())))

    def bar(self, low_m: float, high_m: float, role: Role) -> Line:
        """A bar from one development to another, m, to half a cell at its ends; half a cell at the least."""
        glyphs, start = self.glyphs, round(2 * self.scale.at(low_m))
        start = min(start, 2 * self.scale.cells - 1)
        end = max(round(2 * self.scale.at(high_m)), start + 1)
        drawn = {(0, 0): " ", (1, 1): glyphs.over, (1, 0): glyphs.over_left, (0, 1): glyphs.over_right}
        halves = [int(start <= at < end) for at in range(2 * self.scale.cells)]
        return (Span("".join(drawn[pair] for pair in zip(halves[::2], halves[1::2], strict=True)), role),)


def _laid_over(drawn: Line, put: Sequence[tuple[int, Span]]) -> Iterator[Span]:
    """Marks of one cell each, from left to right, over what is drawn."""
    start = 0
    for text, role in drawn:
        done = 0
        for at, mark in put:
            if start + done <= at < start + len(text):
                yield Span(text[done : at - start], role)
                yield mark
                done = at - start + 1
        yield Span(text[done:], role)
        start += len(text)


def joined(cells: Iterable[Span]) -> Line:
    """Pieces side by side that mean the same as one piece."""
    pieces: list[Span] = []
    for text, role in cells:
        if not text:
            continue
        if pieces and pieces[-1].role is role:
            pieces[-1] = Span(pieces[-1].text + text, role)
        else:
            pieces.append(Span(text, role))
    return tuple(pieces)
