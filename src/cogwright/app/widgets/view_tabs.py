"""The names of the views, in a row that can be clicked."""

from collections.abc import Callable, Sequence

from textual import events
from textual.app import ComposeResult
from textual.selection import Selection
from textual.strip import Strip
from textual.widgets import Tab, Tabs

from cogwright.app.colours import DARK, Colours
from cogwright.app.views import VIEWS
from cogwright.app.widgets.drawn import Drawn
from cogwright.app.widgets.strips import strip_of
from cogwright.present.lines import Line, Look, Role, Span, width


class ViewTab(Drawn, Tab, inherit_css=False):
    """A view's name; the one that is looked at stands in brackets as well."""

    DEFAULT_CSS = "ViewTab { width: auto; height: 1; pointer: pointer; }"

    def __init__(self, number: int) -> None:
        super().__init__(str(number), id=f"view-{number}")
        self.number = number
        self._said: Line = ()
        self._colours = DARK

    def say(self, text: str, chosen: bool, colours: Colours) -> None:
        """Show a text; one of the same width needs no other layout."""
        said = (Span(text, Role.SELECTED if chosen else Role.DIM),)
        if width(said) != width(self._said):
            self.styles.width = width(said)
        if said != self._said or colours is not self._colours:
            self._said, self._colours = said, colours
            self.refresh()

    def strip_at(self, _: int, width: int, __: Selection | None) -> Strip:
        """The text."""
        return strip_of(self._said, width, self._colours)


class ViewTabs(Drawn, Tabs, can_focus=False, inherit_css=False):
    """The names in a rule, one of them chosen. `choose` is called with the number of a view that is clicked.

    It has its tabs without the library's boxes round them, the line below and their style sheets: each of
    them costs time at the start, and each widget whenever anything is drawn. The first frame does not wait
    for the tabs either: what they will say stands in the row already.
    """

    DEFAULT_CSS = "ViewTabs { layout: horizontal; width: 100%; height: 1; padding: 0 0 0 1; }"

    def __init__(self, choose: Callable[[int], None]) -> None:
        self._choose = choose
        self._views = [ViewTab(view.number) for view in VIEWS]
        super().__init__(*self._views, id="tabs-list")
        self._rule: Line = ()
        self._colours = DARK
        self._shown: tuple[tuple[str, ...], int, Colours, Look] | None = None

    def compose(self) -> ComposeResult:
        """Nothing yet: see `fill`."""
        yield from ()

    async def fill(self) -> None:
        """Mount the tabs, over the names that they bear."""
        await self.mount_all(self._views)
        self._choose_tab()

    def _choose_tab(self) -> None:
        chosen = f"view-{self._shown[1]}" if self._shown else ""
        if self.children and self.active != chosen:
            self.active = chosen

    def name_views(self, labels: Sequence[str], chosen: int, colours: Colours, look: Look) -> None:
        """Show these names, one of them chosen."""
        now = (tuple(labels), chosen, colours, look)
        if now == self._shown:
            return
        self._shown = now
        for tab, text in zip(self._views, labels, strict=False):
            tab.say(text, tab.number == chosen, colours)
        self._choose_tab()
        names = [
            Span(text, Role.SELECTED if number == chosen else Role.DIM)
            for number, text in enumerate(labels, self._views[0].number)
        ]
        end = Span(look.glyphs.rule * max(look.width - 1 - width(tuple(names)), 0), Role.RULE)
        rule = (Span(" ", Role.RULE), *names, end)
        if rule != self._rule or colours is not self._colours:
            self._rule, self._colours = rule, colours
            self.refresh()

    def strip_at(self, _: int, __: int, ___: Selection | None) -> Strip:
        """The names and the rule behind them; the tabs cover the names."""
        return strip_of(self._rule, self.outer_size.width, self._colours)

    def watch_active(self, _: str, active: str) -> None:
        """Which one is active is all that changes."""
        for tab in self._views:
            tab.set_class(tab.id == active, "-active")

    def on_tab_clicked(self, event: Tab.Clicked) -> None:
        """The store says which view is looked at; a click asks it."""
        event.stop()
        event.prevent_default()
        if isinstance(event.tab, ViewTab):
            self._choose(event.tab.number)

    def on_tab_relabelled(self, event: Tab.Relabelled) -> None:
        """There is no line below to follow a name."""
        event.stop()
        event.prevent_default()

    def on_resize(self, event: events.Resize) -> None:
        """Nor to follow the size."""
        event.prevent_default()
