"""A proposal written as a setup file: what is in it, and what is never written over."""

import json
import shutil
import tomllib
from pathlib import Path
from typing import Any

import pytest

from bikes import DEMO, some_drawers
from cogwright.store.documents import read_setup, to_toml
from support import called

FIRST = ("--single", "--apply", "1")


@pytest.fixture
def yard(tmp_path: Path) -> Path:
    shutil.copytree(DEMO, tmp_path / "setups")
    return tmp_path / "setups"


def propose(yard: Path, *args: str, bike: str = "yard-1-two-rings.toml") -> Any:
    return called("propose", bike, "--bin", "bins/hollin-yard.toml", *args, cwd=yard)


def conversion(yard: Path) -> list[str]:
    """The demo's own conversion: one ring, twelve cogs, nothing said of the price."""
    return ["--plan", "--low-at-most", "1.87", "--high-at-least", "7.9", "--jump-at-most", "20"]


def test_the_file_is_the_bike_with_all_parts_on(yard: Path) -> None:
    """New chain, derailleur, shifter, carriers: each as the bin has it, and the order agrees."""
    done = propose(yard, *conversion(yard), "--apply", "1", "--out", "new.toml", "--format", "json")
    assert done.returncode == 0, done.stderr
    said = json.loads(done.stdout)
    one, written = said["proposals"][0], read_setup(yard / "new.toml").value
    assert "proposal 1 is written to new.toml" in said["notes"]
    assert list(written.crank.rings) == one["rings"]
    assert list(written.rear.cogs) == one["cogs"]
    assert len(written.rear.cogs) == 12
    bin_ = tomllib.loads((yard / "bins" / "hollin-yard.toml").read_text())
    parts = {part["name"]: part for kind in bin_.values() if isinstance(kind, list) for part in kind}
    named = {part["part"] for part in one["parts"] if part["part"]}
    [cassette] = [parts[name] for name in named if "cogs" in parts[name] and "links" not in parts[name]]
    [derailleur] = [parts[name] for name in named if "capacity" in parts[name]]
    [shifter] = [parts[name] for name in named if parts[name].get("kind") == "rear shifter"]
    assert [list(each) for each in written.rear.carriers] == cassette.get("carriers", [])
    assert written.rear_derailleur.capacity == derailleur["capacity"]
    assert written.rear.clicks == shifter["clicks"] == 12
    assert written.baseline == "yard-1-two-rings.toml"
    order = called("order", "new.toml", "--bin", "bins/hollin-yard.toml", "--format", "json", cwd=yard)
    sheet = json.loads(order.stdout)
    assert sheet["parts_cost"] == one["cost"] == pytest.approx(sum(part["price"] for part in one["parts"]))
    assert [(item["what"], item["price"], item["source"]) for item in sheet["fit"]] == [
        (part["name"], part["price"], part["from"]) for part in one["parts"]
    ]
    [chain] = [part for part in one["parts"] if part["name"].startswith("chain, ")]
    assert chain["name"].startswith(f"chain, {written.chain.links} links")


@pytest.mark.long(cases=0)
def test_the_number_is_that_of_the_list(yard: Path) -> None:
    (yard / "bins" / "hollin-yard.toml").write_text(to_toml(some_drawers()))
    bike = "yard-1-first-trial.toml"
    found = json.loads(propose(yard, "--plan", "--format", "json", bike=bike).stdout)["proposals"]
    assert propose(yard, "--plan", "--apply", "3", "--out", "third", bike=bike).returncode == 0
    third = read_setup(yard / "third.toml").value
    assert (list(third.crank.rings), list(third.rear.cogs)) == (found[2]["rings"], found[2]["cogs"])
    before = read_setup(yard / "yard-1-two-rings.toml").value  # its baseline
    assert third.name.startswith(f"{before.name}, "), "the name says of what it was made, and is another"


@pytest.mark.long(cases=1)
@pytest.mark.parametrize(
    ("kind", "bike"), [("--even", "yard-1-first-trial.toml"), ("--single", "yard-1-two-rings.toml")]
)
def test_the_other_searches_are_written_too(yard: Path, kind: str, bike: str) -> None:
    one = json.loads(propose(yard, kind, "--format", "json", bike=bike).stdout)["proposals"][0]
    assert propose(yard, kind, "--apply", "1", "--out", "other.toml", bike=bike).returncode == 0
    other = read_setup(yard / "other.toml").value
    assert (list(other.crank.rings), list(other.rear.cogs)) == (one["rings"], one["cogs"])


@pytest.mark.parametrize("name", ["yard-7-pass.toml", "yard-7-pass", "link.toml"])
def test_no_file_is_written_over(yard: Path, name: str) -> None:
    (yard / "link.toml").symlink_to("nowhere.toml")
    before = (yard / "yard-7-pass.toml").read_bytes()
    done = propose(yard, *FIRST, "--out", name)
    assert done.returncode == 1
    assert "is there already: give --out another name" in " ".join(done.stderr.split())
    assert (yard / "yard-7-pass.toml").read_bytes() == before
    assert not (yard / "nowhere.toml").exists()


def test_a_file_that_appears_during_the_search_is_left_alone(
    yard: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from cogwright.commands import propose as command

    ended = command.ended

    def meanwhile(*args: Any) -> Any:
        (yard / "new.toml").write_text("mine")
        return ended(*args)

    monkeypatch.setattr(command, "ended", meanwhile)
    done = propose(yard, *FIRST, "--out", "new.toml")
    assert done.returncode == 1
    assert (yard / "new.toml").read_text() == "mine"


def test_what_cannot_be_written_is_said(yard: Path) -> None:
    done = propose(yard, "--single", "--apply", "99", "--out", "new.toml")
    assert (done.returncode, "there is no proposal 99: only" in done.stderr) == (1, True)
    assert not (yard / "new.toml").exists()
    assert propose(yard, *FIRST).returncode == 2
    alone = ("yard-7-pass.toml", "--climb", "12", "--no-bin", *FIRST[1:], "--out", "x")
    climbs = called("propose", *alone, cwd=yard)
    assert (climbs.returncode, "--apply goes with --even" in climbs.stderr) == (2, True)
    assert propose(yard, "--single", "--out", "new.toml").returncode == 2
    assert propose(yard, "--single", "--apply", "0", "--out", "new.toml").returncode == 2
    assert propose(yard, *FIRST, "--out", "nowhere/new.toml").returncode == 1
    assert "will not do as a file name" in propose(yard, *FIRST, "--out", "a:b").stderr


def test_elsewhere_it_names_no_baseline_that_is_not_there(yard: Path) -> None:
    (yard / "bench").mkdir()
    assert propose(yard, *FIRST, "--out", "bench/new.toml").returncode == 0
    assert read_setup(yard / "bench" / "new.toml").value.baseline is None
