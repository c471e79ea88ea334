"""The next tooth count up or down: past those that are there, and none past the ends of what is made."""

import pytest

from cogwright.core.setup.model import MAX_TEETH, MIN_TEETH
from cogwright.core.setup.sprockets import Where, next_teeth
from support import make

BIKE = make([34, 36, MAX_TEETH], [MIN_TEETH, 11, 12, 13])


@pytest.mark.parametrize(
    ("where", "teeth", "up", "found"),
    [
        ("cog", 11, True, 14), ("cog", 13, False, 10), ("cog", MIN_TEETH, False, None),
        ("ring", 34, True, 35), ("ring", 35, True, 37), ("ring", MAX_TEETH, True, None),
        ("cog", MIN_TEETH, True, 7),
    ],
)  # fmt: skip
def test_the_next_count_that_no_other_sprocket_has(
    where: Where, teeth: int, up: bool, found: int | None
) -> None:
    assert next_teeth(BIKE, where, teeth, up) == found
