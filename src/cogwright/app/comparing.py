"""What the Compare view and the hand-out show of a session: the same columns as the command line has."""

from functools import lru_cache

from cogwright.app.state.session import Session
from cogwright.core.comparing.columns import SideBySide, side_by_side
from cogwright.core.comparing.naming import LETTERS
from cogwright.core.comparing.story import story_of
from cogwright.core.parts.bin import Bin
from cogwright.core.riding.course import Course
from cogwright.core.setup.model import Setup
from cogwright.present.lines import Line, Look, Page, Role, Span, line, told
from cogwright.present.views.compare import NOW, compare_page
from cogwright.present.views.story import story_lines

_NO_BASELINE = "Set a baseline first (b): the change from it is then told step by step."
_KEEP = (
    "C keeps the bench as it stands as a candidate, ( and ) go from one to the next, A lists them to save."
)


def compared(session: Session) -> SideBySide:
    """The candidates, and the bench where it is none of them."""
    base = session.baseline.setup if session.baseline else None
    kept = session.work.candidates
    benches, marks = kept.setups, "".join(one.letter for one in kept.kept)
    if kept.of(session.shown) is None:
        benches, marks = (*benches, session.shown), f"{marks}{NOW}"
    return _compared(base, benches, marks, session.course, session.stock)


@lru_cache(maxsize=2)
def _compared(
    base: Setup | None, benches: tuple[Setup, ...], marks: str, course: Course | None, stock: Bin | None
) -> SideBySide:
    return side_by_side(base, benches, course, [stock] * len(benches), marks)


def page_of_candidates(session: Session, look: Look) -> Page:
    """The view: strips in sight, the table, how the bench came about, what to press."""
    here = session.work.candidates.of(session.shown)
    page = compare_page(compared(session), look, on=here.letter if here else "now")
    said = told(_KEEP, look.width, Role.DIM) if len(session.work.candidates.kept) < len(LETTERS) else []
    return Page(page.head, (*page.rows, (), *story(session, look), (), *said))


def story(session: Session, look: Look) -> list[Line]:
    """The change from the baseline to what is shown, step by step."""
    head = line(" ", Span("The change, step by step", Role.HEAD))
    if session.baseline is None:
        return [head, *told(_NO_BASELINE, look.width, Role.DIM)]
    steps = story_of(session.baseline.setup, session.shown, session.stock)
    currency = session.stock.currency if session.stock else ""
    rows = story_lines(steps, currency, look.narrower(1))
    return (
        [head, *(line(" ", row) for row in rows)]
        if rows
        else [head, *told("No part is changed.", look.width)]
    )
