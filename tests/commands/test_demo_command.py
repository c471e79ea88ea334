"""The demo travels with the program; every example of --help works on it, in an otherwise empty folder."""

import re
import shlex
from importlib import import_module
from pathlib import Path

import pytest

from cogwright.cli import COMMANDS, EXAMPLES
from support import ROOT, called

SOURCE = ROOT / "setups"
LAID = sorted(path.relative_to(SOURCE) for path in SOURCE.rglob("*") if path.is_file())


def test_the_demo_is_laid_out_as_it_stands_in_the_source(tmp_path: Path) -> None:
    done = called("demo", cwd=tmp_path)
    assert done.returncode == 0
    assert "The demo is in cogwright-demo" in done.stdout
    assert "cogwright cogwright-demo" in done.stdout
    for name in LAID:
        assert (tmp_path / "cogwright-demo" / name).read_bytes() == (ROOT / "setups" / name).read_bytes()


def test_what_stands_there_is_left_as_it_is(tmp_path: Path) -> None:
    mine = tmp_path / "yard" / "yard-7-pass.toml"
    mine.parent.mkdir()
    mine.write_text("mine")
    assert called("demo", "yard", cwd=tmp_path).returncode == 0
    assert mine.read_text() == "mine"
    assert (mine.parent / "bins" / "hollin-yard.toml").exists()
    assert "was in yard already" in called("demo", "yard", cwd=tmp_path).stdout


def test_a_place_that_cannot_be_written_is_an_error_that_names_it(tmp_path: Path) -> None:
    (tmp_path / "taken").write_text("a file")
    done = called("demo", "taken", cwd=tmp_path)
    assert done.returncode == 1
    assert "taken" in done.stderr


def examples() -> list[str]:
    """The examples of every help that name the demo's files."""
    modules = [import_module(f"cogwright.commands.{name}") for name in COMMANDS]
    lines = "\n".join([EXAMPLES, *(module.EXAMPLES for module in modules)]).splitlines()
    shown = [re.split(r"\s{2,}", line.strip())[0] for line in lines if line.startswith("  cogwright ")]
    return [line for line in shown if "cogwright-demo" in line]


def matched(word: str, folder: Path) -> list[str]:
    """What a shell makes of a word."""
    return [str(path.relative_to(folder)) for path in sorted(folder.glob(word))] if "*" in word else [word]


@pytest.fixture(scope="module")
def laid(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """An otherwise empty folder with the demo in it."""
    folder = tmp_path_factory.mktemp("empty")
    assert called("demo", cwd=folder).returncode == 0
    return folder


@pytest.mark.long(cases=4)
@pytest.mark.parametrize("example", examples())
def test_an_example_of_the_help_works_after_the_demo_was_laid_out(example: str, laid: Path) -> None:
    words = shlex.split(re.split(r"[>|]", example)[0])[1:]
    args = [part for word in words for part in matched(word, laid)]
    if words[0] not in COMMANDS:
        assert all((laid / word).exists() for word in words if not word.startswith("-"))
        return
    done = called(*args, cwd=laid)
    assert done.returncode == 0, done.stderr
    assert done.stdout


def test_no_help_names_what_only_the_source_has() -> None:
    for name in ("", *COMMANDS):
        said = called(*([name] if name else []), "--help").stdout
        assert not re.search(r"(?<![-\w])setups/", said), name
