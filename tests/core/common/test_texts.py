"""Texts, numbers and words at their limits, by hand; widths of characters as Unicode has them."""

import pytest

from cogwright.core.common.errors import InputError, Problem
from cogwright.core.common.numbers import number_in, whole_in, written
from cogwright.core.common.safe_text import (
    cells,
    char_cells,
    clean,
    csv_cell,
    cut,
    cut_middle,
    pad,
    shown_name,
)
from cogwright.core.common.units import kmh, m_per_s, percent
from cogwright.core.common.words import both_ends, count, few, listed

WIDE, MARK = "\u6f22", "\u0301"


@pytest.mark.parametrize(("text", "value"), [("6", 6), ("130", 130), ("34.0", 34), ("+7", 7), ("1e2", 100)])
def test_whole_numbers_within_their_ends(text: str, value: int) -> None:
    assert whole_in(text, 6, 130) == value


@pytest.mark.parametrize("text", ["5", "131", "34.5", "x", "", "1e999", "-7", "0x10", "\u0663"])
def test_what_is_no_whole_number_within_its_ends(text: str) -> None:
    with pytest.raises(ValueError, match="number"):
        whole_in(text, 6, 130)


def test_numbers_from_a_least_one_up() -> None:
    assert number_in("1,5", 1.5) == 1.5
    assert number_in(".5") == 0.5
    assert number_in("5.") == 5.0
    for text in ("1,4", "1e400"):
        with pytest.raises(ValueError, match=r"from 1\.5 up"):
            number_in(text, 1.5)


def test_values_as_they_are_typed() -> None:
    assert [written(v) for v in (False, 0.1, 1e-7, 12, (True, None, "a"))] == [
        "false",
        "0.1",
        "1e-07",
        "12",
        "[true, , a]",
    ]


def test_cells_of_characters() -> None:
    """Combining marks and Korean vowels take none, ideographs two; by their blocks in Unicode (A)."""
    none = f"{MARK}\u0300\u1160\u11a8\u11ff\ud7b0\ud7cb\ud7fb"
    assert [char_cells(char) for char in none] == [0] * len(none)
    one = "a\u02ff\u00e9\u1200\u2588"
    assert [char_cells(char) for char in one] == [1] * len(one)
    assert [char_cells(char) for char in f"{WIDE}\uff21\uac00\u115f"] == [2] * 4
    assert char_cells("\ud7a4") != 0
    assert (cells(f"a{WIDE}{MARK}b"), cells("abc"), cells("")) == (4, 3, 0)


def test_a_cut_text_ends_with_its_mark_and_keeps_to_its_width() -> None:
    assert [cut("abcd", width) for width in (5, 4, 3, 2, 1, 0, -1)] == [
        "abcd",
        "abcd",
        "ab~",
        "a~",
        "~",
        "",
        "",
    ]
    assert cut("abcdef", 4, "..") == "ab.."
    assert [cut("abcdef", width, "..") for width in (2, 1)] == ["..", "."]
    assert cut(f"a{WIDE}b", 3) == "a~", "half of a wide one does not go in"
    assert cut(f"{WIDE}bc", 3) == f"{WIDE}~"
    assert cut("abc", 2, "") == "ab"


def test_both_ends_of_a_text_stay() -> None:
    assert [cut_middle("abcdefgh", width) for width in (8, 7, 6, 5)] == [
        "abcdefgh",
        "abc..gh",
        "ab..gh",
        "abcd~",
    ]
    assert cut_middle(f"abcdef{MARK}{MARK}gh", 6) == "ab..gh", "a mark does not begin an end"
    assert cut_middle(f"abcde{MARK}f{MARK}{MARK}g", 6) == f"ab..f{MARK}{MARK}g"


def test_padding_is_by_cells() -> None:
    assert [pad(f"a{WIDE}", 4), pad("ab", 4, right=True), pad("abcde", 4)] == [f"a{WIDE} ", "  ab", "abc~"]


def test_marks_beyond_three_are_dropped() -> None:
    assert clean("q" + MARK * 5) == "q" + MARK * 3
    assert clean("q" + MARK * 3 + "q" + MARK * 3) == "q" + MARK * 3 + "q" + MARK * 3
    assert clean(MARK + "q") == "q", "one without a letter"
    assert clean("a\nb\tc\u2028d") == "a b c d"
    assert clean("a\nb\tc", keep_newlines=True) == "a\nb c"
    assert clean("\u2630\ufe0fx\u4dc0") == "?x?"


def test_characters_of_names_are_spelt_out_in_their_size() -> None:
    r"""A byte, four digits, eight digits; a byte that is no UTF-8 as that byte."""
    assert shown_name("\x07") == r"\x07"
    assert shown_name("\u00ad") == r"\xad"
    assert shown_name("\u202e") == r"\u202e"
    assert shown_name("\uffff") == r"\uffff"
    assert shown_name("\U000e0001") == r"\U000e0001"
    assert shown_name("\udc80\udcff") == r"\x80\xff"
    assert shown_name("\udc7f\udd00") == r"\udc7f\udd00"
    assert shown_name(f"caf\u00e9 {WIDE}") == f"caf\u00e9 {WIDE}"


def test_what_a_spreadsheet_would_run_gets_an_apostrophe() -> None:
    assert [csv_cell(text) for text in ("+1", "a;=1", "a; -1", "a=1", "\uff1d1", "")] == [
        "'+1", "a;'=1", "a;' -1", "a=1", "'\uff1d1", "",
    ]  # fmt: skip


def test_words_listed_and_counted() -> None:
    assert [listed([1]), listed([1, 2]), listed("abc", "or")] == ["1", "1 and 2", "a, b or c"]
    assert [few(list("ab"), 2), few(list("abc"), 2), few(list("abcd"), 1)] == [
        "a, b",
        "a, b and 1 more",
        "a and 3 more",
    ]
    assert [count(0, "cog"), count(1, "pitch"), count(3, "box"), count(2, "pass")] == [
        "0 cogs", "1 pitch", "3 boxes", "2 passes",
    ]  # fmt: skip


def test_words_in_the_middle_give_way_to_both_ends() -> None:
    words = ["11", "13", "15", "17", "20"]
    assert [both_ends(words, room) for room in (14, 13, 11, 10, 8, 7)] == [
        "11 13 15 17 20", "11 13 .. 20", "11 13 .. 20", "11 .. 20", "11 .. 20", "11 .. 20",
    ]  # fmt: skip
    assert both_ends(["11", "13"], 5) == "11 13"
    assert both_ends(["11"], 1) == "11"
    assert both_ends([], 1) == ""


def test_problems_say_where_they_stand() -> None:
    at = Problem("too few", "give more", "rear.cogs").at("a.toml", 7)
    assert (str(at), at.inside()) == (
        "a.toml:7: rear.cogs: too few; give more",
        "line 7: rear.cogs: too few; give more",
    )
    assert str(at.at("b.toml")) == "b.toml:7: rear.cogs: too few; give more"
    assert str(at.at("b.toml", 0)).startswith("b.toml:0:")
    assert str(Problem("too few")) == Problem("too few").inside() == "too few"
    both = InputError(Problem("one"), Problem("two", file="a"))
    assert str(both) == "one\na: two"
    assert len(both.problems) == 2


def test_units() -> None:
    assert (kmh(5.0), m_per_s(18.0), percent(1.25)) == pytest.approx((18.0, 5.0, 25.0))
