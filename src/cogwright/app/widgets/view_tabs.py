"""The names of the views, in a row that can be clicked."""

from collections.abc import Callable, Sequence
from itertools import accumulate, pairwise

from cogwright.app.colours import Colours
from cogwright.app.widgets.spot_lines import SpotLines
from cogwright.present.lines import Look, Role, Span
from cogwright.present.spots import Spot, SpotLine


class ViewTabs(SpotLines):
    """The names in a rule, one of them chosen. `choose` is called with the number of a view that is clicked.

    One widget and not one a name: each costs time at the start, and whenever anything is drawn.
    """

    ALLOW_SELECT = False

    def __init__(self, choose: Callable[[int], None]) -> None:
        super().__init__(choose, id="views")

    def name_views(self, labels: Sequence[str], chosen: int, colours: Colours, look: Look) -> None:
        """Show these names, one of them chosen; without any it takes no room."""
        self.show_spots([_row(labels, chosen, look)] if labels else [], colours)


def _row(labels: Sequence[str], chosen: int, look: Look) -> SpotLine:
    """The names from the second cell on, and the rule behind them to the end."""
    ends = [*accumulate(map(len, labels), initial=1)]
    names = [
        Span(text, Role.SELECTED if number == chosen else Role.DIM) for number, text in enumerate(labels, 1)
    ]
    rule = Span(look.glyphs.rule * max(look.width - ends[-1], 0), Role.RULE)
    spots = tuple(Spot(*edges, number) for number, edges in enumerate(pairwise(ends), 1))
    return SpotLine((Span(" ", Role.RULE), *names, rule), spots)
