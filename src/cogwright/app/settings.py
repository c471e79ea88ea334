"""The user's own settings: keys, colours, mouse, ASCII, the chart, from one small TOML file.

format = 1
theme = "light"        # dark, light, own, mono
mouse = false
ascii = true
[chart]
drawing = "ladder"     # the program writes these as they are chosen; comments stay
[keys]
save = "w"             # one key, or a list of keys
undo = ["u", "F2"]
"""

import difflib
import re
from collections.abc import Mapping
from pathlib import Path
from typing import Annotated, Final, Literal

from pydantic import Field
from textual.keys import _character_to_key

from cogwright.app.actions import BY_ID, Keymap, default_keymap, key_name
from cogwright.core.common.errors import InputError, Problem
from cogwright.core.common.safe_text import clean, shown_name
from cogwright.core.setup.model import Section
from cogwright.present.chart_style import AxisUnit, BaseMode, ChartKind, ChartStyle, RowOrder, ScaleKind
from cogwright.store.documents import read_document
from cogwright.store.files import read_bytes
from cogwright.store.toml_lines import line_index, line_of

KeyName = Annotated[str, Field(strict=True, min_length=1, max_length=20)]

_NAMED: Final = {
    "up": "up",
    "down": "down",
    "left": "left",
    "right": "right",
    "tab": "tab",
    "enter": "enter",
    "space": "space",
    "pgup": "pageup",
    "pgdn": "pagedown",
    "home": "home",
    "end": "end",
    "insert": "insert",
    "delete": "delete",
    "backspace": "backspace",
}
#: Actions under the names that key files of before may have for them.
_FORMER: Final = {"book-out": "book"}
#: What terminals send for these is another key's code, or the terminal keeps them.
_LOST: Final = {
    "ctrl+i": "it arrives as Tab",
    "ctrl+m": "it arrives as Enter",
    "ctrl+j": "it arrives as Enter",
    "ctrl+h": "it arrives as Backspace",
    "ctrl+b": "tmux takes it",
    "ctrl+z": "it goes back to the shell",
    "ctrl+s": "many terminals stop on it",
    "ctrl+c": "it interrupts the program",
}


class ChartSettings(Section):
    """How the gears are drawn."""

    drawing: Literal["bars", "ladder"] = "bars"
    scale: Literal["log", "linear"] = "log"
    baseline: Literal["row", "lost", "both", "bench"] = "row"
    rows: Literal["size", "ring"] = "size"
    axis: Literal["m", "km/h"] = "m"

    @property
    def style(self) -> ChartStyle:
        """The same for the views."""
        return ChartStyle(
            ChartKind(self.drawing),
            ScaleKind(self.scale),
            BaseMode(self.baseline),
            RowOrder(self.rows),
            AxisUnit(self.axis),
        )


class Settings(Section):
    """What the file may say."""

    format: Literal[1] = 1
    theme: Literal["dark", "light", "own", "mono"] | None = None
    mouse: bool = True
    ascii: bool | None = None
    chart: ChartSettings = ChartSettings.model_construct()
    keys: Annotated[dict[str, KeyName | tuple[KeyName, ...]], Field(max_length=200)] = {}


def read_settings(where: Path) -> tuple[Settings, Keymap]:
    """The settings of a file and the whole keymap.

    Raises InputError with every problem of the file: unknown actions, keys that do not arrive, clashes.
    """
    settings = read_document(where, Settings).value
    keymap, problems = keymap_of(settings)
    if problems:
        lines = line_index(read_bytes(where)[0].decode("utf-8-sig"))
        file = shown_name(str(where))
        raise InputError(*(p.at(file, line_of(lines, tuple(p.key.split(".")))) for p in problems))
    return settings, keymap


def keymap_of(settings: Settings) -> tuple[Keymap, list[Problem]]:
    """The registry's keys with the user's in their place, and what is wrong with those."""
    keymap, problems = default_keymap(), []
    for named, given in settings.keys.items():
        action = _FORMER.get(named, named)
        keys, wrong = _keys((given,) if isinstance(given, str) else given, action)
        problems += wrong + _unknown(action)
        if action in BY_ID and not wrong:
            keymap[action] = keys
    return keymap, problems + _clashes(keymap, settings.keys)


def _unknown(action: str) -> list[Problem]:
    if action in BY_ID:
        return []
    near = difflib.get_close_matches(action, BY_ID, n=1)
    mend = f"did you mean {near[0]}?" if near else "the key : in the program lists the actions"
    return [Problem("there is no such action", mend, f"keys.{clean(action)}")]


def _keys(given: tuple[str, ...], action: str) -> tuple[tuple[str, ...], list[Problem]]:
    keys, problems = [], []
    for text in given:
        key = textual_key(text)
        if key is None or key in _LOST:
            why = _LOST.get(key or "", "it is no key that arrives over SSH")
            mend = "take a character, F1 to F12, Ctrl with a letter, or an arrow"
            problems.append(Problem(f"{clean(text)!r} cannot be used: {why}", mend, f"keys.{clean(action)}"))
        else:
            keys.append(key)
    return tuple(keys), problems


def textual_key(text: str) -> str | None:
    """The library's name of a key written for people; None for one that does not arrive.

    >>> textual_key("?"), textual_key("PgDn"), textual_key("Ctrl+T"), textual_key("F5"), textual_key("S")
    ('question_mark', 'pagedown', 'ctrl+t', 'f5', 'S')
    """
    if len(text) == 1:
        return _character_to_key(text) if text.isprintable() and text.isascii() else None
    low = text.lower()
    if low in _NAMED:
        return _NAMED[low]
    return low if re.fullmatch(r"f([1-9]|1[0-2])|ctrl\+[a-z]", low) else None


def _clashes(keymap: Keymap, own: Mapping[str, object]) -> list[Problem]:
    """Keys that two actions have; the line that is named is one the user wrote."""
    taken: dict[str, str] = {}
    problems: list[Problem] = []
    for action in sorted(keymap, key=lambda id: id in own):
        for key in keymap[action]:
            other = taken.setdefault(key, action)
            if other != action:
                what = f"{key_name(key)} is the key of {other} ({BY_ID[other].name}) as well"
                problems.append(Problem(what, f"give {other} or {action} another key", f"keys.{action}"))
    return problems
