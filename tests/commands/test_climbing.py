"""What a climb or a top speed asks for on the command line, and pairs without a tensioner."""

import json
import math
import shutil
from pathlib import Path

import pytest

from bikes import some_drawers
from cogwright.core.riding.needed import Climb, needed_for, top_development
from cogwright.store.documents import read_setup, to_toml
from support import ROOT, called, make

SETUPS = ROOT / "setups"
TRIAL, BIN = SETUPS / "yard-1-first-trial.toml", SETUPS / "bins" / "hollin-yard.toml"


@pytest.fixture
def stock(tmp_path: Path) -> Path:
    """A bin, the only one of a folder that has the trial, too."""
    (tmp_path / "bins").mkdir()
    shutil.copy(TRIAL, tmp_path)
    (tmp_path / "bins" / "some.toml").write_text(to_toml(some_drawers()))
    return tmp_path / "bins" / "some.toml"


def document(*args: str | Path) -> dict[str, object]:
    done = called("propose", *args, "--format", "json")
    assert (done.returncode, done.stderr) == (0, "")
    found: dict[str, object] = json.loads(done.stdout)
    return found


def test_the_answer_in_text_is_that_of_json() -> None:
    asked = (TRIAL, "--climb", "12", "--load", "25", "--cadence", "60", "--no-bin")
    said = " ".join(called("propose", *asked).stdout.split())
    climb = document(*asked)["climb"]
    assert isinstance(climb, dict)
    assert "12 % with 25 kg of load at 60 rpm" in said
    assert f"a development of {climb['development_m']:.2f} m" in said
    assert f"{climb['speed_kmh']:.1f} km/h" in said
    assert climb["gear"] is None
    assert f"leaves {climb['easiest_rpm']:.0f} rpm" in said
    assert "estimate" in said
    assert climb["development_m"] == pytest.approx(climb["speed_kmh"] / 3.6, abs=2e-4), "a turn a second"


def test_the_short_effort_has_a_lower_cadence_and_serves_a_higher_gear() -> None:
    all_day, short = (
        document(TRIAL, "--climb", "8", "--effort", effort, "--no-bin")["climb"]
        for effort in ("all-day", "short")
    )
    assert isinstance(all_day, dict)
    assert isinstance(short, dict)
    assert short["rpm"] < all_day["rpm"]
    assert short["development_m"] > all_day["development_m"]


@pytest.mark.long
def test_kits_out_of_the_bin_reach_the_climb_and_the_top_speed(stock: Path) -> None:
    """Every kit that meets the limits has a lowest gear no harder, and a highest no easier, than asked."""
    setup = read_setup(TRIAL).value
    low = needed_for(Climb(7.0, 5.0, 55.0), setup).development_m
    high = top_development(35.0, setup.rider)
    asked = ("--climb", "7", "--load", "5", "--cadence", "55", "--top-speed", "35", "--bin", stock)
    found = document(TRIAL, *asked)
    kits = found["proposals"]
    assert found["kind"] == "plan"
    assert isinstance(kits, list)
    assert kits
    for kit in kits:
        if kit["meets"]:
            assert kit["low_m"] <= low * (1 + 1e-9)
            assert kit["high_m"] >= high * (1 - 1e-9)


@pytest.mark.long
def test_unasked_the_kits_come_out_of_the_folders_only_bin(stock: Path) -> None:
    """The answer comes first, under the kind and keys that scripts know; the kits are those of that bin."""
    asked = ("--climb", "7", "--load", "5", "--cadence", "55")
    trial = stock.parents[1] / TRIAL.name
    unasked, alone = document(trial, *asked), document(trial, *asked, "--no-bin")
    assert unasked["kind"] == alone["kind"] == "climb"
    assert unasked["climb"] == alone["climb"]
    assert "proposals" not in alone
    assert unasked["proposals"] == document(trial, *asked, "--bin", stock)["proposals"]


@pytest.mark.long
def test_a_climb_that_no_kit_reaches_names_the_nearest_miss(stock: Path) -> None:
    found = document(TRIAL, "--climb", "20", "--load", "40", "--bin", stock)
    assert found["meets"] is False
    kits = found["proposals"]
    assert isinstance(kits, list)
    assert "nearest miss" in kits[0]["marks"]


def test_pairs_are_the_nearest_first_in_both_formats(tmp_path: Path) -> None:
    bike = tmp_path / "single.toml"
    bike.write_text(to_toml(make((42,), (17,), rollout_mm=2100, frame={"chainstay_mm": 430.0})))
    rings, cogs = (" ".join(map(str, teeth)) for teeth in (range(30, 55), range(12, 24)))
    asked = (bike, "--pairs", "--development", "5.2", "--rings", rings, "--cogs", cogs)
    pairs = document(*asked)["pairs"]
    assert isinstance(pairs, list)
    assert len(pairs) > 2
    offs = [abs(math.log1p(pair["off_pct"] / 100)) for pair in pairs]
    assert offs == sorted(offs)
    for pair in pairs:
        assert pair["development_m"] == pytest.approx(2.1 * pair["ring"] / pair["cog"], abs=1e-4)
    out = called("propose", *asked).stdout
    first, second = (out.index(f"{pair['ring']}x{pair['cog']}") for pair in pairs[:2])
    assert first < second


def test_with_a_hub_gear_pairs_are_told_by_its_lowest_gear(tmp_path: Path) -> None:
    """By hand: 2.1 m of wheel times 0.75 is 1.575 m for one tooth on one."""
    bike = tmp_path / "hub.toml"
    rear = {"hub_ratios": [0.75, 1.0, 1.333]}
    bike.write_text(to_toml(make((42,), (19,), rollout_mm=2100, rear=rear, frame={"chainstay_mm": 440.0})))
    pairs = document(bike, "--pairs", "--development", "3.3")["pairs"]
    assert isinstance(pairs, list)
    for pair in pairs:
        assert pair["development_m"] == pytest.approx(1.575 * pair["ring"] / pair["cog"], abs=1e-4)
    off = [abs(math.log(1.575 * pair["ring"] / pair["cog"] / 3.3)) for pair in pairs]
    assert off[0] == min(off) < math.log(1.1)


def test_pairs_want_a_bike_without_a_tensioner_and_a_stay(tmp_path: Path) -> None:
    done = called("propose", TRIAL, "--pairs", "--development", "5")
    assert done.returncode == 1
    assert "tensioner" in done.stderr
    bare = tmp_path / "bare.toml"
    bare.write_text(to_toml(make((42,), (17,), rollout_mm=2100)))
    done = called("propose", bare, "--pairs", "--development", "5")
    assert done.returncode == 1
    assert "chainstay_mm" in done.stderr


@pytest.mark.long(cases=3)
@pytest.mark.parametrize(
    ("args", "said"),
    [
        (("--climb", "0"), "within"),
        (("--climb", "steep"), "number"),
        (("--climb", "8", "--load", "900"), "within"),
        (("--climb", "8", "--cadence", "5"), "within"),
        (("--plan", "--bin", str(BIN), "--load", "5"), "--load and --cadence go with --climb"),
        (("--pairs",), "--development"),
        (("--even", "--rings", "40"), "go with --pairs"),
        (("--top-speed", "40", "--no-bin"), "--bin"),
    ],
)
def test_what_says_nothing_is_refused(args: tuple[str, ...], said: str) -> None:
    done = called("propose", TRIAL, *args)
    assert done.returncode == 2
    assert said in done.stderr


@pytest.mark.long(cases=1)
@pytest.mark.parametrize(
    "by", [("--ride", "rides/crook-hause.csv"), ("--course", "courses/crook-hause.toml")]
)
def test_a_plan_is_ranked_by_a_ride_or_a_course(by: tuple[str, str], stock: Path) -> None:
    """The times without a liked cadence that the reasons tell rise down the list."""
    bike = SETUPS / "yard-1-two-rings.toml"
    found = document(bike, "--plan", "--bin", stock, by[0], SETUPS / by[1])["proposals"]
    assert isinstance(found, list)
    told = [next(why for why in one["reasons"] if "liked cadence" in why) for one in found if one["meets"]]
    times = [float(why.split(" for ")[1].split()[0]) for why in told]
    assert len(times) > 1
    assert times == sorted(times)
    assert "serves longest" in found[0]["marks"]


@pytest.mark.parametrize(
    ("args", "said"),
    [
        (("--even", "--ride", "x.csv"), "--ride goes with --plan"),
        (("--plan", "--bin", "x", "--ride", "x.csv", "--course", "y.toml"), "by a --course or by a --ride"),
    ],
)
def test_rankings_that_say_nothing_are_refused(args: tuple[str, ...], said: str) -> None:
    done = called("propose", TRIAL, *args)
    assert done.returncode == 2
    assert said in done.stderr
