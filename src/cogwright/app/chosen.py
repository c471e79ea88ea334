"""What the user's own settings come to: of those that have no file, nothing is imported to read one."""

import os
from pathlib import Path
from typing import NamedTuple

from cogwright.app.actions import Keymap, default_keymap
from cogwright.present.chart_style import STANDARD, ChartStyle
from cogwright.store.paths import settings_file


class Chosen(NamedTuple):
    """Keys by action, and how all is drawn; None where the terminal decides."""

    keymap: Keymap
    theme: str | None = None
    mouse: bool = True
    ascii: bool | None = None
    chart: ChartStyle = STANDARD


def chosen(path: Path | None) -> Chosen:
    """What a file of settings says, the usual one if none is named. Raises InputError, all its problems."""
    where = path or settings_file()
    if path is None and not os.path.exists(where):
        return Chosen(default_keymap())
    from cogwright.app.settings import read_settings

    settings, keymap = read_settings(where)
    return Chosen(keymap, settings.theme, settings.mouse, settings.ascii, settings.chart.style)
