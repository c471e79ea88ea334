"""How it looks in whatever terminal the shop has: colours, none, ASCII; and a few pictures."""

import re
import shutil
import sys
from pathlib import Path
from typing import Any

import pytest

from cogwright.app.colours import COLOURS, DARK, LIGHT, MONO, OWN
from cogwright.app.main import BenchApp
from cogwright.present.lines import Role
from cogwright.store.documents import to_toml
from ptyterm import Term
from support import ROOT, make

TRUE_COLOUR, EIGHT_BIT = re.compile(rb"[34]8;2;"), re.compile(rb"[34]8;5;")
SIXTEEN = re.compile(rb"\x1b\[(?:[\d;]*;)?(?:3[0-7]|4[0-7]|9[0-7]|10[0-7])[;m]")


def output(tmp_path: Path, **env: str | None) -> bytes:
    """What the program sends for its start, a swap and the Fit view."""
    shutil.copytree(ROOT / "setups", tmp_path / "setups")
    more = {"PYTHONPATH": str(ROOT / "src"), "XDG_STATE_HOME": str(tmp_path / "state"), **env}
    with Term([sys.executable, "-m", "cogwright", str(tmp_path / "setups")], env=more) as term:
        term.wait_for("36x45 " + ("=" if env.get("LANG") == "C" else "\u2588"))
        term.key("\x1b[A3")
        term.wait_for("capacity")
        return term.output


def test_no_color_sends_no_colour(tmp_path: Path) -> None:
    sent = output(tmp_path, NO_COLOR="1", COLORTERM="truecolor")
    assert not TRUE_COLOUR.search(sent)
    assert not EIGHT_BIT.search(sent)
    assert not SIXTEEN.search(sent)
    assert b"\x1b[1m" in sent or b"\x1b[1;" in sent  # weight is left to tell the title by


def test_a_terminal_of_sixteen_colours_gets_its_own(tmp_path: Path) -> None:
    sent = output(tmp_path, TERM="xterm")
    assert not TRUE_COLOUR.search(sent)
    assert not EIGHT_BIT.search(sent)
    assert SIXTEEN.search(sent)


def test_lang_c_sends_ascii_only(tmp_path: Path) -> None:
    sent = output(tmp_path, LANG="C", LC_ALL=None, LC_CTYPE=None)
    assert sent.decode("ascii")


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


@pytest.mark.parametrize("theme", [DARK, LIGHT])
@pytest.mark.parametrize("role", [role for role in Role if role not in {Role.RULE, Role.GRID}])
def test_every_role_can_be_read_on_its_ground(theme: Any, role: Role) -> None:
    style = theme.style(role)
    ink, ground = style.color.get_truecolor().hex, style.bgcolor.get_truecolor().hex
    assert contrast(ink, ground) >= 4.5  # WCAG 2.2, success criterion 1.4.3, level AA


@pytest.mark.parametrize("theme", [OWN, MONO])
@pytest.mark.parametrize("role", list(Role))
def test_the_terminals_own_ground_is_never_painted(theme: Any, role: Role) -> None:
    style = theme.style(role)
    assert style.bgcolor is None or style.bgcolor.is_default
    assert theme is OWN or style.color is None or style.color.is_default


def test_every_theme_is_in_the_cycle() -> None:
    assert list(COLOURS) == ["dark", "light", "own", "mono"]


@pytest.mark.parametrize(
    ("size", "keys"),
    [((80, 24), ("down",)), ((120, 36), ("down", "v")), ((80, 24), ("3",))],
    ids=["swapped", "both", "fit"],
)
def test_picture(
    snap_compare: Any,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    size: tuple[int, int],
    keys: tuple[str, ...],
) -> None:
    """A picture of the screen, compared with the one that was looked at and kept."""
    for name in ("XDG_STATE_HOME", "XDG_CONFIG_HOME"):
        monkeypatch.setenv(name, str(tmp_path))
    for name in ("NO_COLOR", "LC_ALL", "LC_CTYPE", "SSH_TTY", "SSH_CONNECTION"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("LANG", "C.UTF-8")
    monkeypatch.setenv("TERM", "xterm-256color")
    before = make([30, 46], [11, 13, 15, 17, 19, 21, 24, 28, 32], chain={"links": 108})
    trial = make([38], [11, 13, 15, 17, 19, 21, 24, 28, 32, 40], chain={"links": 108}, baseline="before.toml")
    (tmp_path / "before.toml").write_text(to_toml(before))
    (tmp_path / "trial.toml").write_text(to_toml(trial))
    (tmp_path / "cogwright").mkdir()
    (tmp_path / "cogwright" / "hint-seen").touch()
    app = BenchApp([tmp_path / "trial.toml"])
    assert snap_compare(app, terminal_size=size, press=keys)
