"""What a part is written into the bin as when its price is typed on the order sheet: its own facts alone."""

import pytest

from cogwright.core.common.errors import CogwrightError
from cogwright.core.parts.bin import SmallPart
from cogwright.core.worksheet.sheet import Change, Item, Job, Source
from cogwright.core.worksheet.stock import wanted
from support import make

AFTER = make(
    [40],
    [11, 14, 17, 21],
    size="47-559",
    crank={"bolts": 5},
    rear={"smallest_cog": 11, "clicks": 4, "family": "four"},
    shifters={"family": "four", "pull_mm": 2.8},
)


@pytest.mark.parametrize(
    ("name", "kind", "facts"),
    [
        ("tyre 47-559", "tyre", {"size": "47-559"}),
        ("wheel with a longer freehub", "wheel", {"size": "47-559", "smallest_cog": 11}),
        ("freehub driver", "freehub driver", {"smallest_cog": 11}),
        ("ring bolts", "ring bolts", {"bolts": 5}),
        ("rear shifter, 4 clicks", "rear shifter", {"clicks": 4, "family": "four", "pull_mm": 2.8}),
        ("rear gear cable with end cap", "gear cable", {}),
        ("chain joint", "chain joint", {}),
    ],
)
def test_a_small_part_has_the_facts_that_it_is_found_by(
    name: str, kind: str, facts: dict[str, object]
) -> None:
    made = wanted(Change(Job.CRANK, (), (), name), Item(name, Source.BUY), AFTER)
    assert made == SmallPart.model_validate({"name": name, "kind": kind, **facts})


def test_a_thing_of_no_kind_is_for_its_file() -> None:
    with pytest.raises(CogwrightError, match="a thing is none that can be put into the bin here"):
        wanted(Change(Job.CRANK, (), (), ""), Item("a thing", Source.BUY), AFTER)
