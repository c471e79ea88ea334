"""What runs at a tenth by default is marked, so that it is run in full somewhere."""

import re

import pytest

from support import LONG, ROOT, long_run

USES = re.compile(r"\blong_(run|cases)\(|\bif LONG\b")


def test_every_file_with_a_long_run_has_a_test_that_is_marked() -> None:
    users = [path for path in (ROOT / "tests").rglob("test_*.py") if USES.search(path.read_text("utf-8"))]
    assert len(users) > 10
    assert [path.name for path in users if "@pytest.mark.long" not in path.read_text("utf-8")] == []


@pytest.mark.parametrize(("full", "tenth"), [(10_000, 1000), (300, 30), (20, 2), (5, 1), (1, 1)])
def test_a_tenth_is_made_unless_all_is_asked_for(full: int, tenth: int) -> None:
    assert long_run(full) == (full if LONG else tenth)
