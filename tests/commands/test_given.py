"""One rule for all commands and the screen: the file's baseline, the folder's only bin, and it is said."""

import csv
import json
import shutil
from pathlib import Path

import pytest

from bikes import some_drawers
from cogwright.store.documents import to_toml
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


def test_the_card_says_over_its_edge_what_it_used_and_that_a_bin_has_no_place_on_it(folder: Path) -> None:
    rows = called("card", folder / TRIAL).stdout.splitlines()
    edge = next(at for at, row in enumerate(rows) if row.startswith("+--"))
    over = " ".join(" ".join(rows[:edge]).split())
    assert over.startswith("Compared with Yard 1 tourer, two rings as it came in (yard-1-two-rings.toml")
    assert over.endswith("A card has no prices: no parts bin is used for it.")
    assert max(map(len, rows)) <= 44


def test_a_sheet_of_a_comparison_says_in_a_column_what_was_used(folder: Path) -> None:
    done = called("compare", folder / TRIAL, folder / "yard-1-first-trial.toml", "--format", "csv")
    (used,) = {row["used"] for row in csv.DictReader(done.stdout.splitlines())}
    assert "Compared with Yard 1 tourer, two rings as it came in" in used
    assert "Hollin Yard drawers (bins/hollin-yard.toml, the folder's only bin)" in used
    told = json.loads(called("compare", folder / TRIAL, "--format", "json").stdout)["used"]
    assert used == " ".join(told)


@pytest.mark.long
def test_a_proposal_follows_the_rule_and_says_so(folder: Path) -> None:
    """A plan takes the folder's only bin; what needs none goes on without, as scripts know it."""
    (folder / "bins" / "hollin-yard.toml").write_text(to_toml(some_drawers()))
    plan = ("propose", folder / TRIAL, "--plan", "--cost-at-most", "20", "--format", "json")
    asked = json.loads(called(*plan, "--bin", folder / "bins" / "hollin-yard.toml").stdout)
    unasked = json.loads(called(*plan).stdout)
    assert unasked | {"used": []} == asked | {"used": []}
    assert unasked["used"][1] == (
        "Parts and prices: Hollin Yard drawers (bins/hollin-yard.toml, the folder's only bin)."
    )
    refused = called(*plan, "--no-bin")
    assert (refused.returncode, refused.stdout) == (2, "")
    assert "--plan chooses from a bin" in refused.stderr
    even = called("propose", folder / TRIAL, "--even", "--most", "1")
    told = " ".join(even.stdout.split())
    assert "Out of all tooth counts, compared with Yard 1 tourer, two rings as it came in (yard-1-two" in told
    alone = called("propose", folder / TRIAL, "--even", "--most", "1", "--no-baseline")
    assert "compared with itself as it stands." in " ".join(alone.stdout.split())


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
