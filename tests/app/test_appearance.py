"""How it looks in whatever terminal the shop has: colours, none, ASCII; and a few pictures."""

import re
import shutil
from pathlib import Path
from typing import Any

import pytest
from screens import plotted
from textual.pilot import Pilot

from cogwright.app.colours import COLOURS, DARK, LIGHT, MONO, OWN
from cogwright.app.main import BenchApp
from cogwright.present.lines import Role
from cogwright.store.documents import to_toml
from forking import run_bench
from ptyterm import Term
from support import ROOT, make

TRUE_COLOUR, EIGHT_BIT = re.compile(rb"[34]8;2;"), re.compile(rb"[34]8;5;")
SIXTEEN = re.compile(rb"\x1b\[(?:[\d;]*;)?(?:3[0-7]|4[0-7]|9[0-7]|10[0-7])[;m]")


def output(tmp_path: Path, **env: str | None) -> bytes:
    """What the program sends for its start, a swap and the Fit view."""
    shutil.copytree(ROOT / "setups", tmp_path / "setups")
    more = {"PYTHONPATH": str(ROOT / "src"), "XDG_STATE_HOME": str(tmp_path / "state"), **env}
    with Term(["cogwright", str(tmp_path / "setups")], env=more, forks=run_bench) as term:
        term.wait_for("36x45 " + ("=" if env.get("LANG") == "C" else "\u2588"))
        term.key("\x1b[A3")
        term.wait_for("smallest cog")
        return term.output


def test_no_color_sends_no_colour(tmp_path: Path) -> None:
    sent = output(tmp_path, NO_COLOR="1", COLORTERM="truecolor")
    assert not TRUE_COLOUR.search(sent)
    assert not EIGHT_BIT.search(sent)
    assert not SIXTEEN.search(sent)
    assert b"\x1b[1m" in sent or b"\x1b[1;" in sent  # weight is left to tell the title by


@pytest.mark.long(cases=0)
def test_a_terminal_of_sixteen_colours_gets_its_own(tmp_path: Path) -> None:
    sent = output(tmp_path, TERM="xterm")
    assert not TRUE_COLOUR.search(sent)
    assert not EIGHT_BIT.search(sent)
    assert SIXTEEN.search(sent)


def test_lang_c_sends_ascii_only(tmp_path: Path) -> None:
    sent = output(tmp_path, LANG="C", LC_ALL=None, LC_CTYPE=None)
    assert sent.decode("ascii")


@pytest.mark.long(cases=0)
def test_a_terminal_of_many_colours_gets_them(tmp_path: Path) -> None:
    assert TRUE_COLOUR.search(output(tmp_path, COLORTERM="truecolor"))


def contrast(one: str, other: str) -> float:
    """Contrast ratio of two colours #rrggbb (WCAG 2.2, definition of contrast ratio)."""
    first, second = sorted((_luminance(one), _luminance(other)))
    return (second + 0.05) / (first + 0.05)


def _luminance(colour: str) -> float:
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


@pytest.mark.long(cases=12)
@pytest.mark.parametrize("theme", [DARK, LIGHT])
@pytest.mark.parametrize("role", [role for role in Role if role not in {Role.RULE, Role.GRID}])
def test_every_role_can_be_read_on_its_ground(theme: Any, role: Role) -> None:
    style = theme.style(role)
    ink, ground = style.color.get_truecolor().hex, style.bgcolor.get_truecolor().hex
    assert contrast(ink, ground) >= 4.5  # WCAG 2.2, success criterion 1.4.3, level AA


@pytest.mark.long(cases=13)
@pytest.mark.parametrize("theme", [OWN, MONO])
@pytest.mark.parametrize("role", list(Role))
def test_the_terminals_own_ground_is_never_painted(theme: Any, role: Role) -> None:
    style = theme.style(role)
    assert style.bgcolor is None or style.bgcolor.is_default
    assert theme is OWN or style.color is None or style.color.is_default


def test_every_theme_is_in_the_cycle() -> None:
    assert list(COLOURS) == ["dark", "light", "own", "mono"]


#: The settings file's lines for each way of drawing.
WAYS = {"bars": "", "ladder": 'drawing = "ladder"', "by-ring": 'rows = "ring"'}


@pytest.fixture
def trial(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Two rings with a jump that were others before, in a terminal of many colours."""
    for name in ("XDG_STATE_HOME", "XDG_CONFIG_HOME"):
        monkeypatch.setenv(name, str(tmp_path))
    for name in ("NO_COLOR", "LC_ALL", "LC_CTYPE", "SSH_TTY", "SSH_CONNECTION"):
        monkeypatch.delenv(name, raising=False)
    for name, value in {"LANG": "C.UTF-8", "TERM": "xterm-256color", "COLORTERM": "truecolor"}.items():
        monkeypatch.setenv(name, value)
    before = make([30, 46], [11, 13, 15, 17, 19, 21, 24, 28, 32], chain={"links": 112})
    now = make([32, 46], [11, 13, 15, 17, 19, 21, 24, 34], chain={"links": 112}, baseline="before.toml")
    (tmp_path / "before.toml").write_text(to_toml(before))
    (tmp_path / "trial.toml").write_text(to_toml(now))
    (tmp_path / "cogwright").mkdir()
    (tmp_path / "cogwright" / "hint-seen").touch()
    return tmp_path / "trial.toml"


@pytest.mark.long(cases=3)
@pytest.mark.parametrize("size", [(80, 24), (120, 36)], ids=["80x24", "120x36"])
@pytest.mark.parametrize("theme", ["dark", "light"])
@pytest.mark.parametrize("way", WAYS)
def test_picture(snap_compare: Any, trial: Path, size: tuple[int, int], theme: str, way: str) -> None:
    """A picture of the screen after a swap, compared with the one that was looked at and kept."""
    settings = trial.parent / "cogwright" / "settings.toml"
    settings.write_text(f'theme = "{theme}"\n[chart]\n{WAYS[way]}\n')
    app = BenchApp([trial])

    async def swapped(pilot: Pilot[int]) -> None:
        await pilot.press("down")
        await plotted(pilot)

    assert snap_compare(app, terminal_size=size, run_before=swapped)


@pytest.mark.parametrize("key", ["3", "7"], ids=["fit", "findings"])
def test_picture_of_a_view(snap_compare: Any, trial: Path, key: str) -> None:
    assert snap_compare(BenchApp([trial]), terminal_size=(80, 24), press=(key,))


def test_in_sixteen_colours_the_jump_is_stronger_than_the_old_gear() -> None:
    for role in (Role.JUMP, Role.OVER):
        assert OWN.style(role).bold
        assert OWN.style(role).color != OWN.style(Role.BASE).color
    assert OWN.style(Role.JUMP).reverse
    for role in (Role.BASE, Role.BEFORE):
        style = OWN.style(role)
        assert not any((style.bold, style.reverse, style.underline))
        assert style.color is None or style.color.is_default


def test_a_terminal_that_draws_blocks_wide_gets_narrow_characters(tmp_path: Path) -> None:
    """The one question at the start: where is the cursor after a block?"""
    shutil.copytree(ROOT / "setups", tmp_path / "setups")
    env = {"PYTHONPATH": str(ROOT / "src"), "XDG_STATE_HOME": str(tmp_path / "state")}
    wide = {b"\x1b[6n": b"\x1b[1;3R"}
    with Term(["cogwright", str(tmp_path / "setups")], env=env, answers=wide, forks=run_bench) as term:
        term.wait_for("36x45 \u28ff")
        assert "\u2588" not in term.text
