"""The story of a change: its steps by hand on the demo's tourer, and what any story must add up to."""

import json
import math

import pytest
from hypothesis import given, settings

from bikes import DRAWERS, bike
from cogwright.core.comparing.story import StoryStep, story_of
from cogwright.core.setup.model import Setup
from cogwright.core.study import study
from cogwright.core.worksheet.costing import costing
from cogwright.present.lines import Look, plain
from cogwright.present.views.story import effects, story_json, story_lines
from cogwright.store.bins import read_bin
from cogwright.store.documents import read_setup
from strategies import setups
from support import ROOT, called, long_run, make

SETUPS = ROOT / "setups"
BASE, TRIAL = (read_setup(SETUPS / f"yard-1-{n}.toml").value for n in ("two-rings", "second-trial"))


def said(step: StoryStep) -> list[str]:
    return list(effects(step, "EUR"))


def test_the_steps_of_the_demo_by_hand() -> None:
    """42 to 40 is 4.8 % off the top; without the 28 the lowest is 40 over 28, 42.9 % harder; 30 to 42 gives
    1 - 30/42, 28.6 % of it back."""
    ring, off, cassette, *rest = story_of(BASE, TRIAL)
    assert ring.say == "ring 42 to 40"
    assert said(ring)[0] == "highest 4.8 % lower"
    assert off.say == "ring 28 off"
    assert said(off)[0] == "lowest 42.9 % harder"
    assert cassette.say == "cassette 11-30 (10) to 11-42 (12)"
    assert said(cassette)[0] == "lowest 28.6 % easier"
    assert any("short" in text for text in said(cassette))
    assert "chain long enough again" in said(rest[-1])


def test_which_step_made_a_jump_and_which_mended_it() -> None:
    """From 15 to 21 is 40 %; a 17 for the 21 makes it 13.3 %. From 13 to 15 is 15.4 %: over 15, no jump."""
    base = make([40], [13, 15, 21])
    (step,) = story_of(base, make([40], [13, 15, 17]))
    assert (step.jumps, step.over_limit) == ((1, 0), (2, 1))
    assert said(step)[:3] == ["lowest 23.5 % harder", "jumps 0 (was 1)", "steps over 15 %: 1 (was 2)"]
    assert "largest step 15.4 % (was 40.0)" in said(step)


def test_a_few_cogs_are_told_one_by_one_and_many_as_a_cassette() -> None:
    base = make([40], [11, 13, 15, 17, 20, 24])
    few = story_of(base, make([40], [11, 13, 15, 18, 21, 24]))
    assert [step.say for step in few] == ["cog 17 to 18", "cog 20 to 21"]
    (many,) = story_of(base, make([40], [12, 14, 16, 18, 21, 28]))
    assert many.say == "cassette 11-24 (6) to 12-28 (6)"


def test_a_wheel_is_named_by_its_size_where_that_is_another() -> None:
    was = make([40], [13, 15, 17], size="40-622")
    (other,) = story_of(was, make([40], [13, 15, 17], size="23-622"))
    (same,) = story_of(
        was, was.model_copy(update={"wheel": was.wheel.model_copy(update={"rollout_mm": 2180})})
    )
    assert [other.say, same.say] == ["wheel 23-622", "wheel measured anew"]


def test_facts_that_change_nothing_are_no_step() -> None:
    base = bike()
    other = base.model_copy(
        update={"name": "x", "notes": "y", "rider": base.rider.model_copy(update={"power_w": 99.0})}
    )
    assert story_of(base, other) == ()
    assert story_of(base, base) == ()


@pytest.mark.long
@settings(max_examples=long_run(100, 20))
@given(setups, setups)
def test_the_steps_lead_all_the_way(baseline: Setup, bench: Setup) -> None:
    """Ends multiply to the whole change, known costs add up to that of all parts, whatever the bikes."""
    steps = story_of(baseline, bench)
    against = study(bench, baseline).comparison
    assert against is not None
    for name, whole in (("low_pct", against.low_change_pct), ("high_pct", against.high_change_pct)):
        told = math.prod(1 + getattr(step, name) / 100 for step in steps)
        assert told == pytest.approx(1 + whole / 100, rel=1e-9)
    if steps:
        assert steps[-1].after.summary.jumps == study(bench).summary.jumps


@pytest.mark.parametrize("name", ["yard-1-first-trial", "yard-1-second-trial"])
def test_costs_add_up_to_those_of_the_order(name: str) -> None:
    stock, bench = read_bin(DRAWERS).value, read_setup(SETUPS / f"{name}.toml").value
    steps = story_of(BASE, bench, stock)
    assert sum(step.cost for step in steps) == pytest.approx(costing(BASE, bench, stock).parts_cost)
    order = json.loads(called("order", SETUPS / f"{name}.toml", "--format", "json").stdout)
    assert sum(one["parts_cost"] for one in story_json(steps)) == pytest.approx(order["cost"]["parts"])  # type: ignore[misc]


def test_the_report_tells_it_too() -> None:
    done = called("report", SETUPS / "yard-1-second-trial.toml", "--format", "json")
    told = json.loads(done.stdout)["story"]
    assert [one["say"] for one in told][:2] == ["ring 42 to 40", "ring 28 off"]
    text = called("report", SETUPS / "yard-1-second-trial.toml").stdout
    # The ring of 40 in the bin is made to be alone: it comes with the next step, 28.00 with bolts of 6.50.
    assert " 1  ring 42 to 40: highest 4.8 % lower, no price for ring 40." in text
    assert " 2  ring 28 off: lowest 42.9 % harder, parts +34.50 EUR." in text


def test_lines_keep_to_the_room() -> None:
    rows = [plain(row) for row in story_lines(story_of(BASE, TRIAL), "EUR", Look(40))]
    assert max(map(len, rows)) <= 40
    assert rows[0].startswith(" 1  ring 42 to 40")
