"""How the table of figures is sorted: a part of the session, so kept apart from the table."""

from typing import Final, NamedTuple

#: Columns of the table in `figures_view`, which holds it to this.
COLUMNS: Final = 8


class Sorting(NamedTuple):
    """What the table is sorted by: a column, and whether the largest comes first."""

    column: int = 2
    falling: bool = False

    def moved(self, by: int) -> "Sorting":
        """Sorted by the column `by` to the right."""
        return Sorting((self.column + by) % COLUMNS, self.falling)

    def turned(self) -> "Sorting":
        """The other way round."""
        return Sorting(self.column, not self.falling)
