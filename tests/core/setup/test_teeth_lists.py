"""Tooth counts as people write them: one list however it is marked off, and ranges that are never guessed."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cogwright.core.common.errors import InputError
from cogwright.core.parts.bin import CassettePart
from cogwright.core.setup.model import Rear
from cogwright.core.setup.teeth_lists import CassetteRange, cassette_in, fitting, teeth_in

LISTS = st.lists(st.integers(6, 130), min_size=1, max_size=30, unique=True)
MARKS = st.sampled_from([" ", ", ", ",", "/", "-", " - ", "; ", "\u2013", "  ", "\t"])
ROUND = st.sampled_from([("", ""), ("[", "]"), ("(", ")"), (" [ ", " ] "), ("", "T")])


@given(LISTS, MARKS, ROUND)
def test_a_list_is_the_same_however_it_is_written(
    teeth: list[int], mark: str, round_it: tuple[str, str]
) -> None:
    typed = round_it[0] + mark.join(map(str, teeth)) + round_it[1]
    assert teeth_in(typed) == tuple(sorted(teeth))
    if len(teeth) > 2:
        assert cassette_in(typed) == tuple(sorted(teeth))


@pytest.mark.parametrize(
    ("typed", "low", "high", "count"),
    [
        ("11-32", 11, 32, None),
        ("32-11", 11, 32, None),
        ("11 \u2013 32", 11, 32, None),
        ("11-34T", 11, 34, None),
        ("[11-32]", 11, 32, None),
        ("11-32, 10", 11, 32, 10),
        ("11-32 10", 11, 32, 10),
        ("11-32 x10", 11, 32, 10),
        ("11-32, 10 cogs", 11, 32, 10),
        ("11-32 10sp", 11, 32, 10),
        ("11-13", 11, 13, None),
        ("11-13, 3", 11, 13, 3),
    ],
)
def test_two_numbers_with_a_dash_are_the_ends_of_a_cassette(
    typed: str, low: int, high: int, count: int | None
) -> None:
    assert cassette_in(typed) == CassetteRange(low, high, count)


@pytest.mark.parametrize("typed", ["11 13", "11,13", "11/13", "[11, 13]"])
def test_any_other_mark_between_two_makes_them_two_cogs(typed: str) -> None:
    assert cassette_in(typed) == (11, 13)
    assert teeth_in("11-13") == (11, 13)  # where rings or cogs are asked for there are no ranges


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("", "no tooth count was given; write tooth counts such as 11 13 15"),
        ("[]", "no tooth count was given"),
        ("5", "5 is not a number of teeth, 6 to 130"),
        ("131", "131 is not a number of teeth, 6 to 130"),
        ("11 13.5", "'13.5' is not a number of teeth"),
        ("eleven", "'eleven' is not a number of teeth"),
        ("\x1b[2J", "is not a number of teeth"),
        ("\u0661\u0661", "is not a number of teeth"),
        ("11 13 11", "11 teeth stand there more than once"),
        ("9" * 300, "is not a number of teeth"),
        (" ".join(map(str, range(6, 37))), "31 tooth counts are too many; give 30 at most"),
        ("11 " * 5000, "the list is too long"),
        ("11-13, 15", "from 11 to 13 teeth cannot have 15 cogs; write 11 13 15 for a list of three"),
        ("11-32, 1", "cannot have 1 cog;"),
        ("11-11", "is one cog; write 11 for the one cog"),
        ("5-32", "5 is not a number of teeth"),
    ],
)
def test_what_is_refused_says_why_and_what_to_write(typed: str, words: str) -> None:
    with pytest.raises(InputError) as caught:
        cassette_in(typed)
    assert words in str(caught.value)
    assert str(caught.value).isprintable()


def test_a_range_gives_every_cassette_that_it_can_mean() -> None:
    """By hand: 11-32 is the first, third and last; with ten cogs none; 11-28 none."""
    narrow = CassettePart(name="a", cogs=(11, 13, 15, 18, 21, 24, 28, 32))
    other = CassettePart(name="b", cogs=(12, 14, 16, 18, 21, 24, 28, 32))
    same_ends = CassettePart(name="c", cogs=(11, 12, 14, 16, 18, 21, 24, 28, 32))
    shelf = Rear(cogs=(11, 13, 15, 18, 21, 24, 28, 32))
    there = (narrow, other, same_ends)
    assert fitting(CassetteRange(11, 32), there) == (narrow, same_ends)
    assert fitting(CassetteRange(11, 32, 9), there) == (same_ends,)
    assert fitting(CassetteRange(11, 32, 10), there) == ()
    assert fitting(CassetteRange(11, 28), there) == ()
    assert fitting(CassetteRange(11, 32), (shelf,)) == (shelf,)
