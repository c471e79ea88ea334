"""What runs at a tenth by default is marked, so that it is run in full somewhere."""

import re

import pytest

from support import LONG, ROOT, long_run, spread

USES = re.compile(r"\blong_(run|cases|spread)\(|\bif LONG\b")


def test_every_file_with_a_long_run_has_a_test_that_is_marked() -> None:
    users = [path for path in (ROOT / "tests").rglob("test_*.py") if USES.search(path.read_text("utf-8"))]
    assert len(users) > 10
    assert [path.name for path in users if "@pytest.mark.long" not in path.read_text("utf-8")] == []


@pytest.mark.parametrize(("full", "tenth"), [(10_000, 1000), (300, 30), (20, 2), (5, 1), (1, 1)])
def test_a_tenth_is_made_unless_all_is_asked_for(full: int, tenth: int) -> None:
    assert long_run(full) == (full if LONG else tenth)


@pytest.mark.parametrize(
    ("count", "few", "places"),
    [(9, 3, {0, 3, 6}), (5, 2, {0, 2}), (3, 1, {0}), (2, 5, {0, 1})],
)
def test_the_cases_that_stay_are_spread_over_all(count: int, few: int, places: set[int]) -> None:
    assert spread(count, few) == places


@pytest.mark.long(cases=2)
@pytest.mark.parametrize("case", range(7))
def test_of_many_cases_a_few_are_tried_unless_all_are_asked_for(case: int) -> None:
    assert LONG or case in {0, 3}


def test_no_worker_imports_scipy_that_does_not_use_it() -> None:
    """It takes half a second: `scipys.py` has it for the tests that do."""
    texts = {path.name: path.read_text("utf-8") for path in (ROOT / "tests").rglob("*.py")}
    assert [name for name, text in texts.items() if re.search(r"^(from|import) scipy\b", text, re.M)] == []
