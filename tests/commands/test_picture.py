"""`cogwright picture`: a file of the name that is given, and nothing else."""

from pathlib import Path
from xml.etree import ElementTree

import pytest

from support import ROOT, called

TRIAL = ROOT / "setups" / "yard-1-first-trial.toml"


def text_of(file: Path) -> str:
    return " ".join(ElementTree.fromstring(file.read_text(encoding="utf-8")).itertext())


def test_the_file_s_own_baseline_is_drawn_unless_told_otherwise(tmp_path: Path) -> None:
    out = tmp_path / "trial.svg"
    done = called("picture", TRIAL, "--out", out)
    assert done.returncode == 0, done.stderr
    assert "Compared with Yard 1 tourer, two rings as it came in" in done.stdout
    assert "before: Yard 1 tourer, two rings as it came in" in text_of(out)
    assert called("picture", TRIAL, "--no-baseline", "--out", out).returncode == 0
    assert "before" not in text_of(out)
    other = ROOT / "setups" / "yard-7-pass.toml"
    assert called("picture", TRIAL, "--baseline", other, "--out", out).returncode == 0
    assert "before: Yard 7, pass bike" in text_of(out)


@pytest.mark.parametrize("style", ["bars", "ladder"])
def test_the_same_goes_to_standard_output(style: str, tmp_path: Path) -> None:
    out = tmp_path / "a.svg"
    printed = called("picture", TRIAL, "--style", style, "--out", "-")
    assert called("picture", TRIAL, "--style", style, "--out", out).returncode == 0
    assert printed.stdout == out.read_text(encoding="utf-8")
    assert list(tmp_path.iterdir()) == [out]


def test_no_setup_is_written_over_by_a_slip(tmp_path: Path) -> None:
    mine = tmp_path / "mine.toml"
    mine.write_bytes(TRIAL.read_bytes())
    done = called("picture", mine, "--out", mine)
    assert done.returncode == 2
    assert "does not end in .svg" in done.stderr
    assert mine.read_bytes() == TRIAL.read_bytes()


def test_what_cannot_be_written_is_said_with_its_reason(tmp_path: Path) -> None:
    done = called("picture", TRIAL, "--out", tmp_path / "nowhere" / "a.svg")
    assert done.returncode == 1
    assert "Not written" in done.stderr
    assert "no such file" in done.stderr
