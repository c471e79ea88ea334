"""Fill the README's pictures and key table from the program itself, so that they stay true.

    .venv/bin/python tests/pictures.py           write them
    .venv/bin/python tests/pictures.py --check   exit status 1 if one has changed

A picture is the text of a real screen: the program is started in a pseudo-terminal, keys are typed, and what
an emulated terminal shows is copied between the markers.
"""

import re
import shutil
import sys
import tempfile
from dataclasses import dataclass
from itertools import groupby
from pathlib import Path

from cogwright.app.actions import ACTIONS, key_name
from forking import run_bench
from ptyterm import Term

ROOT = Path(__file__).parents[1]
README = ROOT / "README.md"
DOWN = "\x1b[B"
PICTURE = r"(<!-- picture: (\w+) -->)\n```text\n(.*?)\n```\n<!-- end -->"
#: How long a picture may take to become the one that the README has.
PATIENCE_S = 5.0


@dataclass(frozen=True)
class Picture:
    """What to start, what to type, and the texts to wait for before and after."""

    args: tuple[str, ...] = ("setups",)
    keys: str = ""
    ready: str = "lost"
    after: str = ""
    rows: int = 24
    cols: int = 80


PICTURES = {
    "gears": Picture(),
    "swapped": Picture(keys=DOWN * 5, after="[40]"),
    "proposals": Picture(keys="pea", after="5 found"),
}


def taken(picture: Picture, expected: str) -> str:
    """The screen of the picture as text, once it is the expected one or stays as it is for a while.

    The program is started on a copy of the demo, so that nothing of it is changed.
    """
    with tempfile.TemporaryDirectory() as folder:
        shutil.copytree(ROOT / "setups", Path(folder) / "setups")
        argv = ["cogwright", *picture.args]
        env = {"PYTHONPATH": str(ROOT / "src"), "XDG_CONFIG_HOME": folder, "XDG_STATE_HOME": folder}
        with Term(argv, picture.rows, picture.cols, env, folder, forks=run_bench) as term:
            term.wait_for(picture.ready)
            if picture.keys:
                term.key(picture.keys)
                term.wait_for(picture.after)
            term.wait_until(lambda: shown(term) == expected, PATIENCE_S)
            term.settle()
            return shown(term)


def shown(term: Term) -> str:
    return "\n".join(row.rstrip() for row in term.screen).rstrip()


def keys_table() -> str:
    """The actions and their keys, group by group, from the one registry."""
    rows = ["| key | what it does |", "|---|---|"]
    for group, actions in groupby(ACTIONS, key=lambda action: action.group):
        rows.append(f"| **{group}** | |")
        for action in actions:
            names = " or ".join(f"`{key_name(key)}`" for key in action.keys)
            rows.append(f"| {names} | {action.name} |")
    return "\n".join(rows)


def filled(text: str) -> str:
    """The README's text with every picture and the key table as they are now."""

    def picture(match: re.Match[str]) -> str:
        return f"{match[1]}\n```text\n{taken(PICTURES[match[2]], match[3])}\n```\n<!-- end -->"

    text = re.sub(PICTURE, picture, text, flags=re.DOTALL)
    table = f"<!-- keys -->\n{keys_table()}\n<!-- end -->"
    return re.sub(r"<!-- keys -->\n.*?<!-- end -->", lambda _: table, text, flags=re.DOTALL)


def main(argv: list[str]) -> int:
    """Write the README, or only compare it; the exit status."""
    old = README.read_text(encoding="utf-8")
    new = filled(old)
    if "--check" in argv:
        return int(new != old)
    README.write_text(new, encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
