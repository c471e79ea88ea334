"""How far a search for proposals is, and what it is called, in words."""

from dataclasses import dataclass
from typing import Final

_MILLION: Final = 1_000_000
_NOTHING: Final = {
    "even": "No cassette with these ends and this many cogs is more even: none out of {}.",
    "single": "There is no ring to propose out of {}: give a bin with rings, or none for every tooth count.",
    "plan": "There is nothing for this bike in {}: give its parts a price.",
}


def nothing_words(kind: str, source: str, cogs: int = 3) -> str:
    """What to say when a search out of a source finds nothing, for a bike with so many cogs.

    >>> nothing_words("even", "all tooth counts", cogs=1)
    'There is nothing to even out: one cog. The steps of a hub gear are built into it.'
    """
    if kind == "even" and cogs == 1:
        return "There is nothing to even out: one cog. The steps of a hub gear are built into it."
    return _NOTHING[kind].format(source)


@dataclass(frozen=True, slots=True)
class SearchState:
    """How far a search is: its name, what it chooses from, how many were looked at, what was found."""

    kind: str
    source: str
    done: int = 0
    total: int = 0
    found: int = 0
    meets: bool = True

    @property
    def finished(self) -> bool:
        """Whether everything has been looked at."""
        return 0 < self.total <= self.done


NAMES: Final = {"even": "Even out", "single": "Single ring", "plan": "Plan"}
_OF: Final = {"even": "cassettes", "single": "cassettes", "plan": "changes"}


def search_title(state: SearchState) -> str:
    """The title over the list.

    >>> search_title(SearchState("plan", "drawers", 1_230_000, 5_000_000, 7))
    'Plan: 1.2 of 5.0 million changes looked at, 7 found so far'
    >>> search_title(SearchState("plan", "drawers", 5_000_000, 5_000_000, 7))
    'Plan: 7 that nothing beats, of 5.0 million out of drawers'
    """
    name = NAMES[state.kind]
    if not state.finished:
        if state.kind == "even" or not state.total:
            return f"{name}: looking, out of {state.source}"
        looked = f"{_share(state.done, state.total)} {_OF[state.kind]} looked at"
        return f"{name}: {looked}, {state.found} found so far"
    if state.kind == "plan":
        return f"{name}: {_plan_words(state)}"
    return f"{name}: {state.found or 'nothing'} found, out of {state.source}"


def _plan_words(state: SearchState) -> str:
    if not state.meets:
        return f"none of {_count(state.total)} meets all limits; the nearest misses"
    return f"{state.found} that nothing beats, of {_count(state.total)} out of {state.source}"


def _share(done: int, total: int) -> str:
    if total >= _MILLION:
        return f"{done / _MILLION:.1f} of {_count(total)}"
    return f"{_count(done)} of {_count(total)}"


def _count(many: int) -> str:
    """A count as people read it.

    >>> _count(189_720), _count(7_426_125)
    ('189 720', '7.4 million')
    """
    return f"{many / _MILLION:.1f} million" if many >= _MILLION else f"{many:,}".replace(",", " ")
