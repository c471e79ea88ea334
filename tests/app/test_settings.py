"""The settings file: keys of one's own, and what is wrong with it said all at once."""

from pathlib import Path

import pytest
from screens import text

from cogwright.app.actions import default_keymap, key_name
from cogwright.app.chosen import chosen
from cogwright.app.main import BenchApp
from cogwright.app.settings import read_settings, textual_key
from cogwright.core.common.errors import InputError
from cogwright.options import Options

SETUP = (
    'format = 1\nname = "T"\n[wheel]\nsize = "40-622"\n[crank]\nrings = [40]\n[rear]\ncogs = [11, 13, 15]\n'
)


def write(tmp_path: Path, text: str) -> Path:
    path = tmp_path / "settings.toml"
    path.write_text(text)
    return path


def test_no_file_is_the_defaults(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))
    assert chosen(None).keymap == default_keymap()
    assert chosen(None) == chosen(write(tmp_path, "format = 1\n")), "an empty one says the same"


def test_the_default_keys_do_not_clash_and_all_arrive() -> None:
    keys = [key for keys in default_keymap().values() for key in keys]
    assert len(keys) == len(set(keys))
    assert not {"ctrl+i", "ctrl+m", "ctrl+h", "ctrl+j", "ctrl+left_square_bracket", "escape"} & set(keys)


def test_every_problem_is_said_with_its_line(tmp_path: Path) -> None:
    text = 'format = 1\n[keys]\nsvae = "z"\nundo = "Ctrl+I"\nredo = "s"\n'
    with pytest.raises(InputError) as caught:
        read_settings(write(tmp_path, text))
    said = [str(problem) for problem in caught.value.problems]
    assert len(said) == 3
    assert "settings.toml:3: keys.svae" in said[0]
    assert "did you mean save?" in said[0]
    assert ":4: keys.undo" in said[1]
    assert "arrives as Tab" in said[1]
    assert ":5: keys.redo: s is the key of save" in said[2]


def test_a_key_file_with_the_former_name_of_an_action_is_read(tmp_path: Path) -> None:
    """Booking out and booking the work are one action now; nobody is to write their keys anew."""
    keymap = read_settings(write(tmp_path, 'format = 1\n[keys]\nbook-out = "Z"\n'))[1]
    assert keymap["book"] == ("Z",)
    assert "book-out" not in keymap


def test_a_misspelt_setting_names_the_nearest(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="theme"):
        read_settings(write(tmp_path, 'format = 1\nthme = "light"\n'))


def test_two_actions_may_swap_their_keys(tmp_path: Path) -> None:
    keymap = read_settings(write(tmp_path, '[keys]\nundo = "s"\nsave = ["u", "F5"]\n'))[1]
    assert keymap["undo"] == ("s",)
    assert keymap["save"] == ("u", "f5")


@pytest.mark.parametrize("text", ["", "shift+left", "ctrl+[", "é", "hyper", "\x1b"])
def test_keys_that_do_not_arrive_are_refused(text: str) -> None:
    assert textual_key(text) is None


async def test_a_bound_key_works_and_the_old_one_does_not(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    setup = tmp_path / "a.toml"
    setup.write_text(SETUP)
    app = BenchApp([setup], Options(keys=write(tmp_path, '[keys]\nundo = "s"\nsave = "Z"\n')))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("up", "u")
        assert app.store.session.bench.rear.cogs[-1] == 16
        await pilot.press("s")
        assert app.store.session.bench.rear.cogs[-1] == 15
        assert "Z save" in text(app).splitlines()[-1]


def test_every_printed_key_is_what_its_character_sends() -> None:
    """The help's `?` must be the key that typing `?` gives, by the library's own names."""
    for keys in default_keymap().values():
        for key in keys:
            if len(key_name(key)) == 1:
                assert textual_key(key_name(key)) == key


async def test_capital_letters_are_keys_of_their_own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    setup = tmp_path / "a.toml"
    setup.write_text(SETUP)
    app = BenchApp([setup])
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("S")
        assert " File name " in text(app)
        await pilot.press("escape", "question_mark")
        assert "type to narrow" in text(app)
