"""The drawing of the rider's page, read back out of the SVG: lengths and speeds by hand arithmetic."""

import math
from xml.etree import ElementTree

import pytest

from cogwright.core.setup.model import Setup
from cogwright.core.study import study
from cogwright.present.lines import Role
from cogwright.present.palette import LIGHT
from cogwright.present.picture.small import WIDTH, small_picture
from cogwright.store.documents import read_setup
from support import ROOT, make

BIKES = {path.stem: read_setup(path).value for path in sorted((ROOT / "setups").glob("*.toml"))}
SVG = "{http://www.w3.org/2000/svg}"
RIDER = {"cadence_rpm": [60, 90, 105]}
#: 46x23 goes 4.378 m, 46x13 7.746 m, before 46x11 9.154 m: rollout by teeth ratio.
NOW = make((46,), (13, 17, 19, 23), rollout_mm=2189, rider=RIDER)
BEFORE = make((46,), (11, 17, 19, 23), rollout_mm=2189, rider=RIDER)


def read(bench: Setup, base: Setup | None) -> ElementTree.Element:
    return ElementTree.fromstring(small_picture(study(bench, base)))


def texts(of: ElementTree.Element) -> list[str]:
    return ["".join(text.itertext()) for text in of.iter(f"{SVG}text")]


def bars(of: ElementTree.Element, role: Role) -> list[float]:
    """Lengths of the bars of a role, from the top; shapes of the key are left of them."""
    found = [r for r in of.iter(f"{SVG}rect") if r.get("fill") == LIGHT.colour(role)]
    return [float(r.get("width", 0)) for r in found if r.get("x") == "50"]


def test_each_gear_has_a_bar_for_now_and_one_for_before() -> None:
    """From 4.0 to 10.0 m, the ends of R20 (ISO 3) round 4.38 and 9.15 m, on 224 units."""
    of = read(NOW, BEFORE)
    unit = 224 / math.log(2.5)
    now, old = ([2.189 * 46 / cog for cog in cogs] for cogs in ((23, 19, 17, 13), (23, 19, 17, 11)))
    assert bars(of, Role.BENCH) == pytest.approx([unit * math.log(m / 4) for m in now], abs=0.01)
    assert bars(of, Role.BEFORE) == pytest.approx([unit * math.log(m / 4) for m in old], abs=0.01)


def test_title_axis_and_speeds_are_in_the_words_of_a_rider() -> None:
    """At 90 turns a minute 2.189 m x 46/23 are 23.6 km/h; the 46x11 that is gone went 49.4 km/h."""
    said = texts(read(NOW, BEFORE))
    assert said[0] == "Your gears before and now"
    assert "Speed at 90 turns of the pedals a minute, easiest gear first" in said
    assert {"23.6", "49.4", "46\u00d711", "lost", "km/h", "30", "40"} <= set(said)
    assert said.count("km/h") == 1


def test_what_was_there_before_is_told_by_shape_too() -> None:
    """A thinner bar below; a gear that is lost is hatched, so that no rectangle of its colour is filled."""
    of = read(NOW, BEFORE)
    bars = [r for r in of.iter(f"{SVG}rect") if r.get("x") == "50"]
    high = {r.get("fill", ""): float(r.get("height", 0)) for r in bars if r.get("fill") != "none"}
    assert high[LIGHT.colour(Role.BENCH)] > 2 * high[LIGHT.colour(Role.BEFORE)]
    assert LIGHT.colour(Role.LOST) not in high
    assert [r.get("stroke") for r in bars if r.get("fill") == "none"] == [LIGHT.colour(Role.LOST)]
    assert not list(of.iter(f"{SVG}circle"))


@pytest.mark.long(cases=3)
@pytest.mark.parametrize("name", BIKES)
def test_every_demo_bike_stays_in_the_picture(name: str) -> None:
    of = read(BIKES[name], BIKES["yard-1-two-rings"])
    width, height = (float(of.get(side, 0)) for side in ("width", "height"))
    assert width == WIDTH
    for rect in of.iter(f"{SVG}rect"):
        x, y, wide, high = (float(rect.get(side, 0)) for side in ("x", "y", "width", "height"))
        assert 0 <= x <= x + wide <= width
        assert 0 <= y <= y + high <= height
    for said in of.iter(f"{SVG}text"):
        assert 0 <= float(said.get("x", 0)) <= width - (10 if said.get("text-anchor") is None else 0)
        assert 0 <= float(said.get("y", 0)) <= height
