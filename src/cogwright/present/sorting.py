"""The order in which the table of figures stands: a part of the session, so kept apart from the table."""

from dataclasses import dataclass
from typing import Final

#: Columns of the table in `figures_view`, which holds it to this.
COLUMNS: Final = 8


@dataclass(frozen=True, slots=True)
class Order:
    """What the table is sorted by: a column, and whether the largest comes first."""

    column: int = 2
    falling: bool = False

    def moved(self, by: int) -> "Order":
        """Sorted by the column `by` to the right."""
        return Order((self.column + by) % COLUMNS, self.falling)

    def turned(self) -> "Order":
        """The other way round."""
        return Order(self.column, not self.falling)
