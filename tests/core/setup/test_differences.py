"""What differs between two setups, in words."""

import pytest

from cogwright.core.setup.differences import differences
from cogwright.core.setup.model import Setup
from support import make

ONE = make([42], [11, 13, 15])
TIMED = {"rings": [39, 39], "links": 120}


@pytest.mark.parametrize(
    ("before", "after", "said"),
    [
        (ONE, make([36, 42], [11, 13, 15]), ["rings: 36 new"]),
        (ONE, make([40], [11, 14, 15]), ["ring 42 to 40", "cog 13 to 14"]),
        (ONE, make([42], [15, 13, 11]), []),
        (make([42], [11], notes="a"), make([42], [11], notes="b"), ["notes: changed"]),
        (
            ONE,
            make([42], [11, 13, 15], timing_chain=TIMED),
            ["timing_chain.rings: [39, 39], not given before", "timing_chain.links: 120, not given before"],
        ),
        (
            make([42], [11], timing_chain=TIMED),
            make([42], [11], timing_chain={"rings": [39, 38], "links": 120}),
            ["timing_chain.rings: [39, 38], was [39, 39]"],
        ),
        (
            make([42], [11], timing_chain={"rings": [39, 39]}),
            make([42], [11]),
            ["timing_chain.rings: taken out, was [39, 39]"],
        ),
        (
            make([42], [11], chain={"links": 110}),
            make([42], [11], chain={"links": 112}),
            ["chain.links: 112, was 110"],
        ),
    ],
)
def test_each_fact_that_differs_is_said_with_where_it_stands(
    before: Setup, after: Setup, said: list[str]
) -> None:
    assert list(differences(before, after)) == said
    assert differences(after, after) == ()
