"""Motors: cadence at the cut-off by hand, grades by SciPy's roots, loads by hand with Pint for the units."""

import json
import math
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from bikes import check
from cogwright.core.drive.assist import Reach, cutoff_rpm, reaches
from cogwright.core.drive.loads import loads_of, rider_torque
from cogwright.core.fit.check import Status
from cogwright.core.motor.grades import assisted, motor_power
from cogwright.core.riding.resistance import resistance_of, road_power
from cogwright.core.setup.model import Motor, Setup
from cogwright.core.study import study
from cogwright.present.lines import ASCII, Look, plain, width
from cogwright.present.views.fit import fit_lines
from cogwright.store.documents import to_toml
from scipys import brentq
from support import called, make

COGS = (11, 13, 15, 18, 21, 24, 28, 32)


@cache
def units() -> Any:
    """Pint's, which take a while to read."""
    import pint

    return pint.UnitRegistry()


def bike(**motor: float) -> Setup:
    facts = {"crank_torque_nm": 60.0, "cutoff_kmh": 25.0} | motor
    return make((42,), COGS, rollout_mm=2200.0, crank={"length_mm": 170.0}, motor=facts)


@pytest.mark.long(cases=0)
@pytest.mark.parametrize(("development", "kmh"), [(5.0, 25.0), (8.4, 45.0), (2.1, 25.0)])
def test_cadence_at_the_cut_off(development: float, kmh: float) -> None:
    turns = (kmh * units().km / units().hour) / (development * units().m)
    assert cutoff_rpm(development, kmh) == pytest.approx(turns.to("1/minute").magnitude)


def test_gears_that_reach_it_at_a_liked_cadence() -> None:
    """By hand: 25 km/h are 416.7 m a minute; 42x18 goes 5.13 m a turn, so 81 rpm; liked are 60 to 105."""
    found = {one.gear.cog: one for one in reaches(bike())}
    assert found[18].cutoff_rpm == pytest.approx(416.67 / (42 / 18 * 2.2), abs=0.01)
    by_hand = {cog: 416.67 / (42 / cog * 2.2) for cog in COGS}
    for cog, rpm in by_hand.items():
        want = Reach.SPINS if rpm > 105 else Reach.DRAGS if rpm < 60 else Reach.LIKED
        assert found[cog].reach is want, cog
    limited = {one.gear.cog: one.reach for one in reaches(bike(cadence_rpm=80.0))}
    assert limited[18] is Reach.SPINS, "81 rpm, and it helps up to 80"
    assert reaches(make((42,), COGS, motor={"crank_torque_nm": 60.0})) == ()


def test_motor_power_is_torque_times_angular_speed() -> None:
    at_crank = (60 * units().newton * units().m * 75 * 2 * math.pi / units().minute).to("watt").magnitude
    assert motor_power(Motor(crank_torque_nm=60.0), 75.0, 3.0, 2.2) == pytest.approx(at_crank)
    turns = 4.0 / 2.2  # of the wheel in a second
    wheel = Motor(wheel_torque_nm=30.0)
    assert motor_power(wheel, 75.0, 4.0, 2.2) == pytest.approx(30.0 * 2 * math.pi * turns)
    assert motor_power(Motor(crank_torque_nm=60.0, power_w=250.0), 75.0, 3.0, 2.2) == 250.0
    assert motor_power(Motor(crank_torque_nm=60.0, cadence_rpm=70.0), 75.0, 3.0, 2.2) == 0.0
    assert motor_power(Motor(crank_torque_nm=60.0, cutoff_kmh=25.0), 75.0, 25 / 3.6, 2.2) == 0.0
    assert motor_power(Motor(crank_torque_nm=60.0, cutoff_kmh=25.0), 75.0, 24.9 / 3.6, 2.2) > 0.0


@pytest.mark.parametrize("place", ["crank_torque_nm", "wheel_torque_nm"])
def test_the_grade_held_with_help_is_the_root_of_the_roads_power(place: str) -> None:
    """Rider and motor together at the pedals; one in the wheel loses nothing in the chain."""
    setup = make((42,), COGS, rollout_mm=2200.0, motor={place: 25.0, "cutoff_kmh": 25.0, "power_w": 250.0})
    of, found = resistance_of(setup), assisted(study(setup))
    for one in found:
        speed = one.reach.gear.development_m * 60.0 / 60.0  # 60 rpm, the low cadence, in m a second
        helps = speed < 25.0 / 3.6
        turns = 60.0 / 60.0 if place == "crank_torque_nm" else speed / 2.2
        motor = min(25.0 * 2 * math.pi * turns, 250.0) if helps else 0.0
        assert one.motor_w == pytest.approx(motor)
        at_pedals = motor if place == "crank_torque_nm" else motor / of.efficiency
        for power, grade in ((190.0, one.alone_pct), (190.0 + at_pedals, one.helped_pct)):
            root = brentq(lambda g, p=power, v=speed: road_power(v, g, of) - p, -0.5, 0.9, xtol=1e-12)
            assert grade == pytest.approx(100 * root, abs=1e-6)
        assert (one.helped_pct > one.alone_pct) is helps


def test_the_hardest_case_for_chain_and_hub() -> None:
    """By hand: 72 kg on 170 mm is 120.0 Nm; with 60 of the motor 180 Nm at the crank.

    On 42 teeth (pins at 84.98 mm) the chain pulls 2118 N; at 32 teeth (64.78 mm) that is 137.2 Nm.
    """
    found = loads_of(bike())
    assert found is not None
    assert found.rider_nm == pytest.approx(72 * 9.80665 * 0.170)
    radius = {z: 12.7 / (2 * math.sin(math.pi / z)) / 1000 for z in (42, 32)}
    assert found.chain_n == pytest.approx((found.rider_nm + 60.0) / radius[42])
    assert found.chain_n == pytest.approx(2118.0, abs=1.0)
    assert found.hub_nm == pytest.approx(found.chain_n * radius[32])
    assert found.hub_nm == pytest.approx(137.2, abs=0.1)
    assert rider_torque(72.0, 170.0) == pytest.approx(found.rider_nm)
    wheel = loads_of(make((42,), COGS, crank={"length_mm": 170.0}, motor={"wheel_torque_nm": 60.0}))
    assert wheel is not None
    assert wheel.motor_nm == 0.0, "a motor in the wheel does not load the chain"
    assert loads_of(make((42,), COGS)) is None


@pytest.mark.parametrize(
    ("name", "table", "key", "limit", "status"),
    [
        ("hub load", "rear", "most_torque_nm", 138.0, Status.OK),
        ("hub load", "rear", "most_torque_nm", 137.0, Status.PROBLEM),
        ("chain load", "chain", "most_load_n", 2119.0, Status.OK),
        ("chain load", "chain", "most_load_n", 2117.0, Status.PROBLEM),
    ],
)
def test_loads_against_their_limits(name: str, table: str, key: str, limit: float, status: Status) -> None:
    facts: dict[str, Any] = {"crank": {"length_mm": 170.0}, "motor": {"crank_torque_nm": 60.0}}
    setup = make((42,), COGS, rollout_mm=2200.0, **facts, **{table: {key: limit}})
    assert check(setup, name).status is status
    unknown = make((42,), COGS, **{table: {key: limit}})
    assert check(unknown, name).say == "needs crank.length_mm in the setup"
    assert name not in {c.check for c in study(bike()).fit}


@pytest.mark.parametrize(
    ("name", "table", "key", "figure"),
    [("hub load", "rear", "most_torque_nm", 152.48), ("chain load", "chain", "most_load_n", 2353.7)],
)
def test_a_torque_that_is_given_takes_the_place_of_the_estimate(
    name: str, table: str, key: str, figure: float
) -> None:
    """By hand: 140 and 60 Nm at pins of 84.972 mm pull with 2353.7 N; at 64.785 mm that is 152.48 Nm."""
    facts: dict[str, Any] = {"rider": {"crank_torque_nm": 140.0}, "motor": {"crank_torque_nm": 60.0}}
    for limit, status in ((figure + 1.0, Status.OK), (figure - 1.0, Status.PROBLEM)):
        found = check(make((42,), COGS, **facts, **{table: {key: limit}}), name)
        assert found.figure == pytest.approx(figure, abs=0.05)
        assert found.status is status
        assert not found.default, "not an estimate of ours"
        assert "140 Nm of rider and 60 Nm of motor on 42x32" in found.say
        assert "estimate" not in found.say
    guessed = check(make((42,), COGS, crank={"length_mm": 170.0}, **{table: {key: 900.0}}), name)
    assert guessed.default
    assert "all weight on one pedal" in guessed.say


@pytest.mark.parametrize("name", ["hub load", "chain load"])
def test_a_tandem_is_loaded_by_both_riders_and_the_line_says_whose_mass_it_took(name: str) -> None:
    """By hand: 150 kg on 170 mm are 250.07 Nm, whichever of the two cranks they come from."""
    limits = {"rear": {"most_torque_nm": 900.0}, "chain": {"most_load_n": 9000.0}}
    facts: dict[str, Any] = {"crank": {"length_mm": 170.0}, "rider": {"mass_kg": 150.0}, **limits}
    alone = check(make((42,), COGS, **facts), name)
    tandem = check(make((42,), COGS, timing_chain={"rings": [39, 39]}, **facts), name)
    assert tandem.figure == alone.figure
    assert tandem.say.startswith("250 Nm of rider on 42x32, an estimate: the 150 kg of rider.mass_kg")
    assert "both riders" in tandem.say
    assert "both riders" not in alone.say
    told = check(
        make((42,), COGS, timing_chain={"rings": [39, 39]}, **facts | {"rider": {"crank_torque_nm": 300}}),
        name,
    )
    assert told.say == "300 Nm of rider on 42x32"


@pytest.mark.parametrize(
    ("motor", "limits", "status"),
    [
        ({"cutoff_kmh": 25.0}, {"assist_kmh": 25.0}, Status.OK),
        ({"cutoff_kmh": 26.0}, {"assist_kmh": 25.0}, Status.PROBLEM),
        ({"cutoff_kmh": 25.0, "power_w": 300.0}, {"assist_kmh": 25.0, "assist_w": 250.0}, Status.PROBLEM),
        ({"cutoff_kmh": 25.0, "power_w": 250.0}, {"assist_kmh": 25.0, "assist_w": 250.0}, Status.OK),
        ({"cutoff_kmh": 25.0}, {}, Status.UNKNOWN),
        ({"crank_torque_nm": 60.0}, {"assist_kmh": 25.0}, Status.UNKNOWN),
    ],
)
def test_the_law_of_the_place_wins(motor: Any, limits: Any, status: Status) -> None:
    """A: at most 0.25 kW, cut off at 25 km/h (scope of EN 15194); other places have other limits."""
    found = check(make((42,), COGS, motor=motor, limits=limits), "assist limit")
    assert found.status is status
    if "cutoff_kmh" in motor:
        assert "the law of the place wins" in found.say


def test_no_gear_that_reaches_it_is_a_caution_and_no_motor_no_line() -> None:
    slow = make((42,), (32,), rollout_mm=2200.0, motor={"cutoff_kmh": 45.0})
    assert check(slow, "assist reach").status is Status.CAUTION
    assert "too fast for the legs" in check(slow, "assist reach").say
    assert check(make((42,), COGS, motor={"power_w": 250.0}), "assist reach").status is Status.UNKNOWN
    bare = {c.check for c in study(make((42,), COGS)).fit}
    assert bare.isdisjoint({"assist reach", "assist limit", "hub load", "chain load"})


@pytest.mark.parametrize("cells", [30, 40, 63, 64, 80, 120])
def test_the_table_fits_and_says_whose_figures_win(cells: int) -> None:
    rows = fit_lines(study(bike()), Look(cells, glyphs=ASCII))
    assert max(map(width, rows)) <= cells
    said = " ".join(" ".join(map(plain, rows)).split())
    assert "The law of the place wins over every figure here" in said


def test_view_and_data_agree(tmp_path: Path) -> None:
    (tmp_path / "a.toml").write_text(to_toml(bike()))
    data = json.loads(called("report", "a.toml", "--format", "json", cwd=tmp_path).stdout)["motor"]
    rows = [plain(row).split() for row in fit_lines(study(bike()), Look(80))]
    for one in data["per_gear"]:
        (row,) = [r for r in rows if r[:1] == [f"{one['ring']}x{one['cog']}"] and len(r) > 4]
        assert [float(x) for x in row[1:4]] == pytest.approx(
            [one["helped_pct"], one["alone_pct"], one["motor_w"]], abs=0.51
        )
        assert float(row[4]) == pytest.approx(one["cutoff_rpm"], abs=0.51)
    assert data["hub_nm"] == pytest.approx(137.2, abs=0.1)
