"""The search that the session asks for. Imported with the first search: the app starts without."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import partial
from typing import Final

from cogwright.app.state.proposal_request import GoalKind, first_limits
from cogwright.app.state.session import Session
from cogwright.core.parts.bin import Bin
from cogwright.core.proposing.bin_choices import (
    cassette_choice,
    cassettes_for,
    pool_for,
    ring_source,
    rings_for,
    whole_for,
)
from cogwright.core.proposing.course_score import score_on
from cogwright.core.proposing.plan import Plan
from cogwright.core.proposing.progress import Progress, even_progress, single_progress
from cogwright.core.proposing.proposal import Proposal
from cogwright.core.proposing.served import Served, ranked_by
from cogwright.core.riding.evidence.evidence import ridden_on
from cogwright.core.setup.model import Setup
from cogwright.present.panels.search_words import nothing_words

ALL_COUNTS: Final = "all tooth counts"


@dataclass(frozen=True)
class Search:
    """A search that has not begun: what it chooses from, in words, and what to say when it finds nothing."""

    kind: GoalKind
    source: str
    steps: Callable[[], Iterator[Progress]]
    nothing: str
    order: Callable[[Iterable[Proposal]], tuple[Proposal, ...]] = tuple


def search(session: Session) -> Search:
    """The search for the session's bench, baseline, bin and request. A plan needs a bin."""
    return {"even": _even, "single": _single, "plan": _plan}[session.request.kind](session)


def _base_and_bin(session: Session) -> tuple[Setup | None, Bin | None]:
    stock = None if session.request.all_counts else session.stock
    return session.baseline.setup if session.baseline else None, stock


def _even(session: Session) -> Search:
    bench, (base, stock) = session.bench, _base_and_bin(session)
    pins = session.request.pinned(bench.rear.cogs)
    source = stock.name if stock else ALL_COUNTS
    source += f"; {' '.join(map(str, pins))} pinned" if pins else ""
    steps = partial(
        even_progress,
        bench,
        base,
        pool_for(bench, stock) if stock else None,
        pins,
        [cassette_choice(part) for part in whole_for(bench, stock)] if stock else [],
        session.stock,
    )
    hint = " Press a to search all tooth counts." if stock and len(bench.rear.cogs) > 2 else ""
    return Search("even", source, steps, f"{nothing_words('even', source, len(bench.rear.cogs))}{hint}")


def _single(session: Session) -> Search:
    bench, (base, stock) = session.bench, _base_and_bin(session)
    cassettes = cassettes_for(bench, session.stock)
    score = score_on(session.course) if session.course else None
    rings = rings_for(bench, stock) if stock else ()
    steps = partial(single_progress, bench, base, cassettes, rings, score, session.stock)
    source = ring_source(bench, stock)
    source += f", on {session.course.name}" if session.course else ""
    return Search("single", source, steps, nothing_words("single", source))


def _plan(session: Session) -> Search:
    assert session.stock is not None
    bench, stock = session.bench, session.stock
    base = session.baseline.setup if session.baseline else None
    goal = session.request.limits or first_limits(bench, base)
    served = _served(session)
    steps = Plan(bench, stock, goal, base, served).progress
    source = f"{stock.name}, ranked by {served.name}" if served else stock.name
    order = partial(ranked_by, served) if served else tuple
    return Search("plan", source, steps, nothing_words("plan", stock.name), order)


def _served(session: Session) -> Served | None:
    """The recorded rides that are looked at, else the course; None without either."""
    if session.rides:
        return Served.on_rides(ridden_on(session.rides, session.ridden))
    return Served.on_course(session.course, session.bench) if session.course else None
