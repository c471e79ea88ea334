"""Names of files: those that may be typed for a setup, and where the program keeps its own state."""

import os
import re
from collections.abc import Iterator
from itertools import chain, count
from pathlib import Path
from typing import Final

from platformdirs import user_config_path, user_state_path

from cogwright.core.common.safe_text import clean, shown_name
from cogwright.store.files import StoreError

#: A backup or an original adds a few characters, and most file systems take 255 bytes.
MOST_BYTES: Final = 200

_NAME: Final = "cogwright"
_SETTINGS: Final = "settings.toml"
_ELSEWHERE: Final = '<>:"|?*\\'
_RESERVED: Final = re.compile(r"(?i)(con|prn|aux|nul|com\d|lpt\d)(\..*)?")


def path_in(folder: Path, name: str) -> Path:
    """The path of a setup of that name in the folder; `.toml` is added. Raises StoreError."""
    return folder / safe_name(name)


def safe_name(name: str) -> str:
    """A typed name as a file name that ends in `.toml`. Raises StoreError with the reason against it.

    >>> safe_name(" yard 7 ")
    'yard 7.toml'
    """
    name = name.strip()
    stem = name[:-5] if name.lower().endswith(".toml") else name
    wrong = _wrong_with(stem)
    if wrong:
        raise StoreError(f"{shown_name(name)[:60]!r} will not do as a file name: {wrong}")
    return stem + ".toml"


def _wrong_with(stem: str) -> str:
    checks = {
        "it is empty; type a name": not stem.strip(" ."),
        "a name has no slash: setups stay in their folder": "/" in stem,
        "a leading dot would hide it": stem.startswith("."),
        "a leading dash looks like an option": stem.startswith("-"),
        "it holds characters that cannot be seen": clean(stem) != stem or not _encodes(stem),
        f"leave out {_ELSEWHERE}, which other systems do not take": any(c in _ELSEWHERE for c in stem),
        "it is reserved on other systems": _RESERVED.fullmatch(stem) is not None,
        "it ends in a dot or a space": stem != stem.rstrip(" ."),
        f"it is too long; {MOST_BYTES} bytes are the most": len(stem.encode(errors="replace")) > MOST_BYTES,
    }
    return next((why for why, holds in checks.items() if holds), "")


def _encodes(text: str) -> bool:
    try:
        os.fsencode(text)
    except UnicodeEncodeError:
        return False
    return True


def suggested_name(title: str) -> str:
    """A plain file name for a setup of that title.

    >>> suggested_name("Yard 7: tourer, 1x trial")
    'yard-7-tourer-1x-trial.toml'
    """
    words = re.findall(r"[a-z0-9]+", title.lower())
    return ("-".join(words)[:60].strip("-") or "setup") + ".toml"


def numbered(path: Path) -> Path:
    """The path, or where it is taken the first with a number that is free."""
    return next(free for free in names_of(path) if not os.path.lexists(free))


def names_of(path: Path) -> Iterator[Path]:
    """The path, then with a number: `ride.txt`, `ride-2.txt`, and so on for ever."""
    return chain([path], (path.with_stem(f"{path.stem}-{number}") for number in count(2)))


def relative_to(folder: Path, file: Path) -> str:
    """A file's path from a folder, as a setup in that folder names it: they may then move together."""
    return Path(os.path.relpath(os.path.abspath(file), os.path.abspath(folder))).as_posix()


def state_folder() -> Path:
    """Where unsaved work is kept: where the system keeps such things.

    XDG_STATE_HOME/cogwright if that is set, by default ~/.local/state/cogwright on Linux.
    """
    return _absolute(user_state_path(_NAME, appauthor=False), "XDG_STATE_HOME", ".local/state")


def state_folders() -> tuple[Path, ...]:
    """Where unsaved work may have been left: the state folder, and where it was on every system before."""
    return tuple(dict.fromkeys((state_folder(), _xdg("XDG_STATE_HOME", ".local/state"))))


def settings_file() -> Path:
    """The settings: where the system keeps such things, else where they were on every system before.

    XDG_CONFIG_HOME/cogwright/settings.toml if that is set, by default under ~/.config on Linux.
    """
    here = _absolute(user_config_path(_NAME, appauthor=False), "XDG_CONFIG_HOME", ".config") / _SETTINGS
    before = _xdg("XDG_CONFIG_HOME", ".config") / _SETTINGS
    return before if not os.path.exists(here) and os.path.exists(before) else here


def _absolute(found: Path, variable: str, default: str) -> Path:
    """The folder, unless a variable made it a relative one, which the XDG specification has ignored."""
    return found if found.is_absolute() else _xdg(variable, default)


def _xdg(variable: str, default: str) -> Path:
    base = os.environ.get(variable, "")
    return Path(base if os.path.isabs(base) else os.path.join(os.path.expanduser("~"), default)) / _NAME
