"""The order sheet of bikes with a belt: what comes off and on, and not a word of chains."""

from typing import Any

from bikes import drawer
from cogwright.core.parts.which_fit import SprocketPlace, try_parts
from cogwright.core.setup.model import Setup
from cogwright.core.study import study
from cogwright.core.worksheet.build import order_sheet
from cogwright.core.worksheet.sheet import Job, Source
from cogwright.present.lines import Look, plain
from cogwright.present.views.order import order_lines
from support import make

BINNED = drawer(
    belts=[
        {"name": "belt of 113 teeth", "pitch_mm": 11.0, "teeth": 113, "price": 60.0, "count": 1},
        {"name": "belt of 116 teeth", "pitch_mm": 11.0, "teeth": 116, "price": 62.0, "count": 1},
    ],
    chains=[{"name": "wide chain", "links": 112, "outer_width_mm": 8.6, "price": 12.0, "count": 1}],
)


def bike(ring: int = 50, cog: int = 24, teeth: int = 116, **more: Any) -> Setup:
    belt = {"pitch_mm": 11.0, "teeth": teeth}
    return make((ring,), (cog,), belt=belt, frame={"chainstay_mm": 430.0, "axle_travel_mm": 12.0}, **more)


def said(base: Setup, bench: Setup) -> str:
    return "\n".join(map(plain, order_lines(order_sheet(study(bench, base), BINNED), Look(100))))


def test_another_belt_out_of_the_bin_and_its_tension_by_its_maker() -> None:
    sheet = order_sheet(study(bike(46, 24, 113), bike()), BINNED)
    assert sheet is not None
    (belt,) = [change for change in sheet.changes if change.job is Job.BELT]
    assert (belt.off[0].what, belt.on[0].source, belt.on[0].price) == (
        "belt, 116 teeth of 11 mm",
        Source.STOCK,
        60.0,
    )
    text = said(bike(), bike(46, 24, 113))
    assert "as its maker states" in text
    assert "Belt off" in text
    for word in ("chain", "Chain", "half link", "links"):
        assert word not in text, word


def test_a_belt_for_a_chain_and_a_chain_for_a_belt() -> None:
    chained = make((50,), (24,), chain={"links": 106}, frame={"chainstay_mm": 430.0, "axle_travel_mm": 12.0})
    to_belt = order_sheet(study(bike(), chained), BINNED)
    assert to_belt is not None
    (change,) = [one for one in to_belt.changes if one.job is Job.BELT]
    assert change.off[0].what == "chain, 106 links"
    to_chain = order_sheet(study(chained, bike()), BINNED)
    assert to_chain is not None
    (back,) = [one for one in to_chain.changes if one.job is Job.NEW_CHAIN]
    assert back.off[0].what == "belt, 116 teeth of 11 mm"
    assert back.chain is not None
    assert back.chain.links == to_chain.after.chain.links


def test_no_chain_ring_or_cog_stands_in_for_a_pulley() -> None:
    stock = drawer(
        rings=[{"teeth": 46, "price": 20.0, "count": 1}], cogs=[{"teeth": 22, "price": 5.0, "count": 1}]
    )
    sheet = order_sheet(study(bike(46, 22), bike()), stock)
    assert sheet is not None
    assert [item.what for item in sheet.on] == ["rear belt pulley 22", "front belt pulley 46"]
    assert all(item.part is None for item in sheet.on)
    chained = make((50,), (24,), chain={"links": 106}, frame={"chainstay_mm": 430.0, "axle_travel_mm": 12.0})
    to_belt = order_sheet(study(bike(), chained), stock)
    assert to_belt is not None
    assert {"rear belt pulley 24", "front belt pulley 50"} <= {item.what for item in to_belt.on}
    assert {"cog 24", "ring 50"} <= {item.what for item in to_belt.off}


def test_the_same_belt_is_no_change() -> None:
    sheet = order_sheet(study(bike(), bike()), BINNED)
    assert sheet is not None
    assert sheet.changes == ()


def test_belts_are_tried_on_a_bike_with_a_belt_and_chains_on_one_without() -> None:
    on_belt = {t.part.name: t for t in try_parts(BINNED, study(bike()), SprocketPlace("ring", 50))}
    assert set(on_belt) == {"belt of 113 teeth", "belt of 116 teeth"}
    assert on_belt["belt of 116 teeth"].fits
    assert not on_belt["belt of 113 teeth"].fits, "50 and 24 teeth take 115.6"
    chained = study(make((50,), (24,), frame={"chainstay_mm": 430.0}))
    assert {t.part.name for t in try_parts(BINNED, chained, SprocketPlace("ring", 50))} == {"wide chain"}
