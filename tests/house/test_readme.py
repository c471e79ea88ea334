"""The README stays true: a valid example, real commands, and pictures that the program drew."""

import re

import pytest

from cogwright.cli import COMMANDS
from cogwright.core.setup.model import Section, Setup
from cogwright.store.documents import parse
from support import ROOT

README = (ROOT / "README.md").read_text(encoding="utf-8")


def test_the_example_files_are_valid_and_show_every_key() -> None:
    examples = [parse(text, Setup) for text in re.findall(r"```toml\n(.*?)```", README, re.DOTALL)]
    assert {name for one in examples for name in one.model_fields_set} == set(Setup.model_fields)
    for name in Setup.model_fields:
        tables = [getattr(one, name) for one in examples]
        if isinstance(tables[0], Section):
            shown = {key for table in tables for key in table.model_fields_set}
            assert shown == set(type(tables[0]).model_fields), name


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


@pytest.mark.long(cases=0)
def test_pictures_and_keys_are_the_programs_own() -> None:
    import pictures

    assert pictures.filled(README) == README, "run tests/pictures.py"
