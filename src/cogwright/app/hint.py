"""The hint of three lines that a first start shows, and that goes away for good with the first edit."""

import os
from collections.abc import Mapping
from pathlib import Path
from typing import Final

from cogwright.app.actions import key_name
from cogwright.store.files import StoreError
from cogwright.store.paths import state_folder
from cogwright.store.private import private_folder, write_private

_TEXT: Final = (
    "{pick-left} and {pick-right} pick a sprocket, {teeth-up} and {teeth-down} change its teeth: watch the "
    "bars, and the line below, which says what is lost and gained against the baseline. {undo} takes it "
    "back, {save} saves, {open} opens another bike, {help} lists all keys."
)
#: The same in one line, for a screen that is full of gears.
_BRIEF: Final = (
    "{pick-left} {pick-right} pick a sprocket, {teeth-up} {teeth-down} change it; "
    "{undo} takes it back, {help} is help."
)


def brief(keymap: Mapping[str, tuple[str, ...]]) -> str:
    """The hint in one line."""
    return _filled(_BRIEF, keymap)


def text(keymap: Mapping[str, tuple[str, ...]]) -> str:
    """The hint, with the keys as they are bound."""
    return _filled(_TEXT, keymap)


def _filled(template: str, keymap: Mapping[str, tuple[str, ...]]) -> str:
    return template.format_map(
        {action: key_name(keys[0]) if keys else "-" for action, keys in keymap.items()}
    )


def _file() -> Path:
    return state_folder() / "hint-seen"


def wanted() -> bool:
    """Whether the hint is still to be shown here."""
    return not os.path.exists(_file())


def seen() -> None:
    """Never show it again. Where the state folder cannot be written it will just come once more."""
    try:
        private_folder(_file().parent)
        write_private(_file(), b"")
    except (OSError, StoreError):
        return
