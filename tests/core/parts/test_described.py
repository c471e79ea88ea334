"""The derailleur in the bin that a setup describes: limits must agree, what is measured must not differ."""

from typing import Any

import pytest

from bikes import drawer
from cogwright.core.parts.search import rear_derailleur
from cogwright.core.setup.drivetrain import RearDerailleur

LIMITS = {"largest_cog": 36, "capacity": 39}


@pytest.mark.parametrize(
    ("part", "found"),
    [
        (LIMITS, True),
        (LIMITS | {"smallest_cog": 11}, True),  # says more than the setup
        ({"largest_cog": 36}, False),  # says less: a limit that is not the part's may be another's
        (LIMITS | {"largest_cog": 34}, False),
        (LIMITS | {"shift_ratio": 1.41}, True),
        (LIMITS | {"shift_ratio": 1.7}, False),
    ],
)
def test_a_part_is_the_one_that_is_described(part: dict[str, Any], found: bool) -> None:
    wanted = RearDerailleur(**LIMITS, shift_ratio=1.41)
    assert (rear_derailleur(drawer(rear_derailleurs=[part]), wanted) is not None) is found


def test_one_of_which_nothing_is_known_is_none_of_them() -> None:
    stock = drawer(rear_derailleurs=[LIMITS])
    assert rear_derailleur(stock, RearDerailleur()) is None
    assert rear_derailleur(stock, RearDerailleur(shift_ratio=1.41)) is None
