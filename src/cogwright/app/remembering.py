"""What the program writes into the settings file by itself: how the gears are drawn."""

import os
from collections.abc import MutableMapping
from pathlib import Path

import tomlkit
from tomlkit.exceptions import TOMLKitError

from cogwright.core.common.errors import CogwrightError, InputError, Problem
from cogwright.present.chart_style import ChartStyle
from cogwright.store.exports import write_over
from cogwright.store.files import problem_of, read_bytes
from cogwright.store.paths import settings_file


def remember_chart(path: Path | None, style: ChartStyle) -> str:
    """Write how the gears are drawn into the settings file, the rest of which stays as it stands.

    Without a path it is the usual file. What went wrong, if anything.
    """
    where = Path(os.path.realpath(path or settings_file()))
    try:
        text = read_bytes(where)[0].decode("utf-8-sig") if where.exists() else "format = 1\n"
        where.parent.mkdir(parents=True, exist_ok=True)
        write_over(where, _with_chart(text, style))
    except (OSError, ValueError) as error:
        return str(problem_of(error, where))
    except (CogwrightError, TOMLKitError) as error:
        return str(error)
    return ""


def _with_chart(text: str, style: ChartStyle) -> str:
    document = tomlkit.parse(text)
    chart = document.setdefault("chart", tomlkit.table())
    if not isinstance(chart, MutableMapping):
        raise InputError(Problem("it is no table of its own", "write [chart] on a line by itself", "chart"))
    for name, way in style._asdict().items():
        chart[name] = str(way)
    return tomlkit.dumps(document)
