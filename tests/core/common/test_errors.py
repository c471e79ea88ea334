"""What is said of a mistake never carries what a terminal would obey, wherever its text comes from."""

import pytest

from cogwright.core.common.errors import Problem

HARM = "a\x1b[2J\x07\u202eb"


@pytest.mark.parametrize("field", ["what", "mend", "key", "file"])
def test_every_part_of_a_problem_is_fit_to_show(field: str) -> None:
    said = str(Problem(**{"what": "wrong", field: HARM}))
    assert said.isprintable()
    assert "a" in said
    assert "b" in said
