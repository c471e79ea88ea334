"""The README stays true: a valid example, real commands, and pictures that the program drew."""

import re

import pytest

from cogwright.cli import COMMANDS
from cogwright.core.setup.model import Setup
from cogwright.store.documents import parse
from support import ROOT

README = (ROOT / "README.md").read_text(encoding="utf-8")


def test_the_example_file_is_valid() -> None:
    (example,) = re.findall(r"```toml\n(.*?)```", README, re.DOTALL)
    setup = parse(example, Setup)
    for table in ("wheel", "crank", "rear", "rear_derailleur", "front_derailleur", "frame", "chain", "rider"):
        assert getattr(setup, table).model_fields_set, table


def test_the_two_commands_come_first_and_need_only_pip_and_venv() -> None:
    commands = [line.strip() for line in README.splitlines() if line.startswith("    ")]
    start, test = commands[:2]
    assert start.endswith(".venv/bin/cogwright setups")
    assert test.endswith(".venv/bin/pytest -n auto --dist worksteal")
    for command in (start, test):
        assert command.startswith("python3 -m venv .venv && .venv/bin/pip install ")


@pytest.mark.parametrize("name", sorted(COMMANDS))
def test_every_subcommand_is_named(name: str) -> None:
    assert f"cogwright {name} " in README


def test_pictures_and_keys_are_the_programs_own() -> None:
    import pictures

    assert pictures.filled(README) == README, "run tests/pictures.py"
