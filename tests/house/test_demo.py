"""The demo setups: all read without a word, and together show what the program is for."""

from pathlib import Path

import pytest

from cogwright.core.fit.check import Status
from cogwright.core.gears.against_baseline import Comparison
from cogwright.core.gears.rollout import RolloutVerdict
from cogwright.core.parts.bin import Bin
from cogwright.core.parts.which_fit import SprocketPlace, try_parts
from cogwright.core.setup.edits import SetTeeth
from cogwright.core.setup.model import Setup
from cogwright.core.setup.unusual import cautions
from cogwright.core.study import study
from cogwright.core.wear.staying import Fate, verdicts
from cogwright.store.documents import read_document, read_setup, to_toml
from support import ROOT

FOLDER = ROOT / "setups"
FILES = sorted(FOLDER.glob("*.toml"))


def setup(name: str) -> Setup:
    return read_setup(FOLDER / f"{name}.toml").value


def against(name: str, base: str) -> Comparison:
    found = study(setup(name), setup(base)).comparison
    assert found is not None
    return found


@pytest.mark.parametrize("path", FILES, ids=lambda p: p.stem)
def test_a_demo_file_is_clean_and_as_the_program_would_save_it(path: Path) -> None:
    value = read_setup(path).value
    assert cautions(value) == ()
    assert to_toml(value) == path.read_text(encoding="utf-8")
    assert value.notes, "every demo bike says why it is there"
    assert value.name.startswith("Yard ")


def test_there_is_a_bike_of_every_kind() -> None:
    values = [read_setup(path).value for path in FILES]
    assert len(values) >= 8
    assert {len(v.crank.rings) for v in values} == {1, 2, 3}
    assert any(len(v.rear.hub_ratios) > 1 and len(v.rear.cogs) == 1 for v in values), "a hub gear"
    assert any(study(v).summary.gears == 1 for v in values), "a single speed"
    assert any(v.limits.rollout_m for v in values), "a race limit"


def test_a_named_baseline_is_there() -> None:
    for path in FILES:
        base = read_setup(path).value.baseline
        assert base is None or (FOLDER / base) in FILES


def test_the_first_file_opens_on_a_loss() -> None:
    """`cogwright setups` opens the first one: it has a baseline, lost gears and a big jump."""
    first = read_setup(FILES[0]).value
    assert first.baseline is not None
    found = against(FILES[0].stem, Path(first.baseline).stem)
    assert len(found.lost_high) >= 2
    assert any(s.big_jump for s in study(first).rear_steps)


def test_the_conversion_loses_jumps_and_is_mended() -> None:
    trial, mended = setup("yard-1-first-trial"), setup("yard-1-second-trial")
    assert study(trial).summary.jumps > study(mended).summary.jumps == 0
    lost = [against(f"yard-1-{stage}-trial", "yard-1-two-rings") for stage in ("first", "second")]
    assert len(lost[0].lost_high) > len(lost[1].lost_high)
    assert lost[1].holes == ()


def test_the_youth_bike_shows_all_three_verdicts() -> None:
    assert {row.verdict for row in study(setup("yard-6-youth")).rows} == set(RolloutVerdict)


def test_the_camping_bike_does_not_index_until_the_drawers_shifter_is_on() -> None:
    bench = setup("yard-2-camping")
    stock = read_document(FOLDER / "bins" / "hollin-yard.toml", Bin).value
    assert status(bench, "indexing") is Status.PROBLEM
    tried = try_parts(stock, study(bench), SprocketPlace("cog", bench.rear.cogs[0]))
    (shifter,) = [one for one in tried if one.part.name == "rear shifter, 9 clicks"]
    assert shifter.fits
    assert status(shifter.edit.apply(bench), "indexing") is Status.OK


def test_the_fell_bikes_chain_is_due_and_its_cassette_doubtful() -> None:
    bench = setup("yard-3-fell")
    assert [v.fate for v in verdicts(bench)] == [Fate.DUE, Fate.DOUBTFUL, Fate.DOUBTFUL]


def test_the_town_bikes_hub_permits_no_larger_cog_than_22() -> None:
    # By hand: 42 / 1.9 is 22.1.
    bench = setup("yard-4-town")
    assert status(bench, "hub torque") is Status.OK
    assert status(SetTeeth("cog", 19, 22).apply(bench), "hub torque") is Status.OK
    assert status(SetTeeth("cog", 19, 23).apply(bench), "hub torque") is Status.PROBLEM


def status(of: Setup, name: str) -> Status:
    return {check.check: check.status for check in study(of).fit}[name]
