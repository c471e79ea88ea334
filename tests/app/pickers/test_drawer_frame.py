"""The drawer in the room there is: what gives way to what, and that the marked row is always in sight."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cogwright.app.pickers.drawer_frame import Wanted, drawer_frame, in_sight
from cogwright.app.state.opened import Typed
from cogwright.present.lines import UNICODE, Line, Look, Span, plain, width
from cogwright.present.panels.foot import FootKey


def lines(count: int, of: str = "row") -> list[Line]:
    return [(Span(f"{of} {n}"),) for n in range(count)]


WANTED = st.builds(
    Wanted,
    title=st.just("title"),
    look=st.builds(Look, st.integers(20, 200), st.integers(5, 70), st.just(UNICODE)),
    rows=st.integers(0, 50).map(lines),
    head=st.integers(0, 3).map(lambda n: lines(n, "head")),
    about_room=st.integers(0, 6),
    about=st.just(lambda height: lines(height, "about")),
    keys=st.just((FootKey("Enter", "take", "enter"), FootKey("q or Esc", "back", "escape"))),
    typed=st.one_of(st.none(), st.just(Typed("text", 4))),
    at=st.one_of(st.none(), st.integers(0, 49)),
    top=st.integers(0, 60),
    most=st.integers(3, 60),
    least=st.integers(3, 12),
)


@given(WANTED)
def test_it_takes_no_more_than_there_is_and_keeps_the_mark_in_sight(wanted: Wanted) -> None:
    frame = drawer_frame(wanted)
    assert 3 <= frame.height <= max(wanted.look.height - 4, 3)
    assert frame.room >= (1 if wanted.rows or wanted.typed is None else 0)
    assert (frame.typed is None) == (wanted.typed is None)
    assert all(width(row) <= wanted.look.width for row in (frame.title, *frame.head, *frame.about))
    if wanted.at is not None and wanted.at < len(wanted.rows):
        assert frame.top <= wanted.at < frame.top + frame.room
    assert 0 <= frame.top <= max(len(wanted.rows) - frame.room, 0)


def test_what_is_said_of_a_row_gives_way_first_then_rows_then_the_head_then_the_keys() -> None:
    def at(height: int) -> tuple[int, int, int, int]:
        keys = (FootKey("q", "back", "q"),)
        of = Wanted("t", Look(80, height), lines(9), lines(1), 3, lines, keys, most=99)
        frame = drawer_frame(of)
        return len(frame.about), frame.room, len(frame.head), len(frame.keys)

    assert [at(height) for height in (40, 14, 12, 11, 10, 9, 8, 7)] == [
        (3, 9, 1, 1),  # title, head, nine rows, three of about, a line of keys: fifteen
        (3, 4, 1, 1),
        (3, 2, 1, 1),
        (2, 2, 1, 1),
        (1, 2, 1, 1),
        (0, 2, 1, 1),
        (0, 1, 1, 1),
        (0, 1, 0, 1),
    ]


@pytest.mark.parametrize(("at", "place"), [(0, "1 of 20"), (19, "20 of 20"), (None, "1-4 of 20")])
def test_the_title_says_where_one_is_in_what_is_not_all_in_sight(at: int | None, place: str) -> None:
    frame = drawer_frame(Wanted("t", Look(40, 24), lines(20), at=at, most=6))
    assert f" {place} " in plain(frame.title)
    assert " of " not in plain(drawer_frame(Wanted("t", Look(40, 24), lines(3), at=0)).title)


@given(st.integers(0, 99), st.integers(1, 30), st.lists(st.integers(-1, 1), max_size=80))
def test_moving_the_mark_moves_the_rows_no_farther_than_it_must(at: int, room: int, moves: list[int]) -> None:
    top = in_sight(0, at, 100, room)
    for by in moves:
        at = min(max(at + by, 0), 99)
        before, top = top, in_sight(top, at, 100, room)
        assert abs(top - before) <= abs(by)
        assert top <= at < top + room
