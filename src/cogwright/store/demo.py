"""The demo that travels with the program: bikes, a parts bin and courses of an invented yard."""

from collections.abc import Iterator
from contextlib import suppress
from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path
from typing import Final

from cogwright.core.common.errors import InputError, Problem
from cogwright.core.common.safe_text import shown_name
from cogwright.store.files import StoreError, problem_of
from cogwright.store.folders import make_folder

#: The folder that it is laid out in where none is named.
FOLDER: Final = "cogwright-demo"


def demo() -> Traversable:
    """The folder of the demo, in the package or, in a checkout, beside it."""
    packed = files("cogwright") / "demo"
    if packed.is_dir():
        return packed
    beside = Path(__file__).resolve().parents[3] / "setups"
    if not beside.is_dir():
        raise InputError(Problem("the demo did not come with this program", "install it again"))
    return beside


def lay_out(folder: Path) -> int:
    """Lay the demo out; how many files were new. What stands there already is left as it is.

    Raises StoreError where it cannot be written.
    """
    written = 0
    for parts, source in _files(demo(), ()):
        target = folder.joinpath(*parts)
        make_folder(target.parent)
        try:
            with suppress(FileExistsError), target.open("xb") as out:
                out.write(source.read_bytes())
                written += 1
        except OSError as error:
            raise StoreError(f"{shown_name(str(target))}: {problem_of(error, target)}") from error
    return written


def _files(of: Traversable, within: tuple[str, ...]) -> Iterator[tuple[tuple[str, ...], Traversable]]:
    """Every file, with the folders on the way to it; what an editor left beside them is none of it."""
    for one in sorted(of.iterdir(), key=lambda each: each.name):
        if one.name.startswith(".") or one.name.endswith("~"):
            continue
        if one.is_dir():
            yield from _files(one, (*within, one.name))
        else:
            yield (*within, one.name), one
