"""Marks that stack on a letter: a few stay, in front of any letter none does."""

import pytest

from cogwright.core.common.safe_text import MARKS_KEPT, cells, clean

MARK = "\u0315"  # a combining comma, which no letter composes with


@pytest.mark.parametrize("many", range(MARKS_KEPT + 3))
def test_as_many_marks_as_are_kept_and_no_more(many: int) -> None:
    assert clean("x" + MARK * many).count(MARK) == min(many, MARKS_KEPT)


def test_three_marks_are_what_a_row_has_room_for() -> None:
    """P: no written language is known to us that stacks more; more flow into the rows around."""
    assert clean("x" + MARK * 9).count(MARK) == 3


def test_every_letter_has_marks_of_its_own() -> None:
    assert clean(("x" + MARK * MARKS_KEPT) * 3).count(MARK) == 3 * MARKS_KEPT


def test_a_mark_before_any_letter_is_dropped() -> None:
    assert clean(MARK + "x") == "x"


def test_the_first_letter_counts_from_none() -> None:
    assert clean("\u6f22" + MARK) == "\u6f22" + MARK


@pytest.mark.parametrize(
    ("text", "taken"), [("Orléans", 7), ("ß§", 2), ("漢字", 4), ("x" + MARK, 1), ("", 0), ("é漢", 3)]
)
def test_cells_that_a_text_takes(text: str, taken: int) -> None:
    """Unicode Standard Annex 11: W and F take two, N and Na one; a combining mark takes none."""
    assert cells(text) == taken
