"""One rule for all commands and the screen: the file's baseline, the folder's only bin, and it is said."""

import json
import shutil
from pathlib import Path

import pytest

from support import ROOT, called

SETUPS = ROOT / "setups"
TRIAL = "yard-1-second-trial.toml"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """The demo's setups, to be changed."""
    shutil.copytree(SETUPS, tmp_path / "yard")
    return tmp_path / "yard"


@pytest.mark.parametrize("command", ["report", "order", "compare"])
def test_the_files_baseline_and_the_only_bin_are_used_and_said(command: str, folder: Path) -> None:
    told = " ".join(called(command, folder / TRIAL).stdout.split())
    assert "Compared with Yard 1 tourer, two rings as it came in (yard-1-two-rings.toml, as its file" in told
    assert "Parts and prices: Hollin Yard drawers (bins/hollin-yard.toml, the folder's only bin)." in told


def test_the_card_sets_the_bike_against_its_baseline(folder: Path) -> None:
    """40 over 42 against 28 over 30 on one wheel: 1.020, 2 % harder; 40 against 42 over 11: 4.8 % lower."""
    told = " ".join(called("card", folder / TRIAL).stdout.replace("|", " ").split())
    assert "before: Yard 1 tourer, two rings as it came in" in told
    assert "lowest 2.0 % harder, highest 4.8 % lower" in told
    assert "before:" not in called("card", folder / TRIAL, "--no-baseline").stdout


def test_told_otherwise_they_do_without(folder: Path) -> None:
    told = called("report", folder / TRIAL, "--no-baseline", "--no-bin", "--format", "json")
    assert json.loads(told.stdout)["comparison"] is None
    order = json.loads(called("order", folder / TRIAL, "--no-bin", "--format", "json").stdout)
    assert order["bin"] is None
    assert order["total"] is None
    assert called("order", folder / TRIAL, "--no-baseline").returncode == 1
    assert called("report", folder / TRIAL, "--no-bin", "--bin", "x.toml").returncode == 2


def test_of_several_bins_none_is_taken_unasked(folder: Path) -> None:
    shutil.copy(folder / "bins" / "hollin-yard.toml", folder / "bins" / "other.toml")
    told = called("order", folder / TRIAL)
    assert "2 parts bins are in the folder: --bin says which; no prices." in " ".join(told.stdout.split())
    chosen = called("order", folder / TRIAL, "--bin", folder / "bins" / "other.toml", "--format", "json")
    assert json.loads(chosen.stdout)["total"] is not None


def test_a_bin_or_baseline_that_cannot_be_read_is_said_and_costs_nothing_else(folder: Path) -> None:
    (folder / "bins" / "hollin-yard.toml").write_text("format = 1\nname = 3\n")
    (folder / "yard-1-two-rings.toml").unlink()
    told = called("report", folder / TRIAL)
    assert told.returncode == 0
    words = " ".join(told.stdout.split())
    assert "the baseline that the file names cannot be read" in words
    assert "there is no such file" in words
    assert "The folder's parts bin cannot be read, so no prices" in words
    done = called("order", folder / TRIAL)
    assert done.returncode == 1
    assert "there is nothing to come from" in done.stderr


def test_a_sheet_has_no_place_for_words_so_they_go_to_standard_error(folder: Path) -> None:
    done = called("report", folder / TRIAL, "--format", "csv")
    assert done.stdout.startswith("of,name,")
    assert "Compared with Yard 1 tourer, two rings" in done.stderr
