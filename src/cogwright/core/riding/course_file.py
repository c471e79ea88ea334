"""The course as a TOML file holds it: pieces of road, or points of distance and height."""

from itertools import pairwise
from typing import Annotated, Final, Literal, Self

from pydantic import AfterValidator, Field, model_validator

from cogwright.core.riding.course import Course, Piece, from_pieces, from_points
from cogwright.core.riding.track.recorded import THIN_M, from_track
from cogwright.core.setup.bounds import number
from cogwright.core.setup.model import Name, Notes, Section, problem

#: No road is steeper than this, %: beyond it a length is in the wrong unit.
MAX_GRADE_PCT: Final = 50.0
MAX_LENGTH_M: Final = 5_000_000.0

Distance = Annotated[float, number(0, MAX_LENGTH_M)]
Height = Annotated[float, number(-430, 9000)]


class PieceEntry(Section):
    """A piece of road: its length along the road, its grade, and what the place is called."""

    length_m: Annotated[float, number(1, MAX_LENGTH_M)]
    grade_pct: Annotated[float, number(-MAX_GRADE_PCT, MAX_GRADE_PCT)]
    name: Name | None = None


Points = tuple[tuple[Distance, Height], ...]


def _rising(points: Points) -> Points:
    for (at, _), (to, _) in pairwise(points):
        if to <= at:
            raise problem(
                f"the distance {to:g} does not come after {at:g}", "let distances rise from point to point"
            )
    return points


class CourseFile(Section):
    """One course. `points` are [distance, height] in m; `recorded` heights are noisy and get smoothed."""

    format: Literal[1] = 1
    name: Name
    notes: Notes = ""
    start_height_m: Height | None = None
    recorded: bool = False
    pieces: Annotated[tuple[PieceEntry, ...], Field(max_length=20_000)] = ()
    points: Annotated[Points, Field(max_length=50_000), AfterValidator(_rising)] = ()

    @model_validator(mode="after")
    def _one_road(self) -> Self:
        if bool(self.pieces) == bool(self.points) or len(self.points) == 1:
            raise problem(
                "the course has no road, or two", "give either [[pieces]] or two points or more, not both"
            )
        if self.pieces and self.recorded:
            raise problem("pieces are not recorded heights", "leave recorded out")
        if self.points and self.start_height_m is not None:
            raise problem("points have heights of their own", "leave start_height_m out")
        self._rideable()
        return self

    def _rideable(self) -> None:
        """Measured points make no wall; recorded ones, which may, reach far enough to be smoothed."""
        if self.recorded and self.points[-1][0] - self.points[0][0] < 2 * THIN_M:
            raise problem("the track leads nowhere", "record or draw a longer one")
        steep = MAX_GRADE_PCT / 100.0
        for (at, low), (to, high) in () if self.recorded else pairwise(self.points):
            if abs(high - low) > steep * (to - at):
                raise problem(
                    f"from {at:g} to {to:g} m it is steeper than {MAX_GRADE_PCT:g} %",
                    "give distance and height in m, in this order",
                )

    def course(self, file: str = "") -> Course:
        """The course that the file describes."""
        if self.pieces:
            pieces = (Piece(p.length_m, p.grade_pct / 100.0, p.name or "") for p in self.pieces)
            return from_pieces(self.name, pieces, self.start_height_m, self.notes, file)
        build = from_track if self.recorded else from_points
        return build(self.name, self.points, self.notes, file)
