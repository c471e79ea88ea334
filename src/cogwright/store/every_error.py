"""Every error of a file at once: a validator stops at the first thing wrong with a value, this goes on.

A list with one bad tooth count is not looked at for duplicates, nor a misspelt table at all. So what is wrong
is left out, what is misspelt is taken by the name that it is nearest to, and the rest is validated again.
"""

from collections.abc import Callable, Mapping
from typing import Any, Final

from pydantic import BaseModel, ValidationError

from cogwright.core.setup.model import NOTHING_GIVEN
from cogwright.store.toml_lines import Path

#: An error as pydantic tells it.
RawError = dict[str, Any]
#: The nearest known name of an unknown key, or None.
Nearest = Callable[[Path], str | None]
_ROUNDS: Final = 4
#: A file with more errors than this is no setup: the first round says enough.
_ENOUGH: Final = 200


def every_error(model: type[BaseModel], values: Mapping[str, Any], nearest: Nearest) -> list[RawError]:
    """All errors of the values, each with its place in the file; none when they are valid."""
    first = found = _errors(model, values, {})
    told = [one for one in first if not _is_missing(one)]
    drops: set[Path] = set()
    names: dict[Path, str] = {}
    for _ in range(_ROUNDS if 0 < len(first) < _ENOUGH else 0):
        _leave_out(found, values, nearest, drops, names)
        back: dict[Path, Path] = {}
        found = _errors(model, _mended(values, (), (), drops, names, back), back)
        new = [one for one in found if not _is_missing(one) and one["loc"] not in drops]
        told += new
        if not new:
            break
    lacking = {one["loc"] for one in found if _is_missing(one)}
    return told + [one for one in first if _is_missing(one) and one["loc"] in lacking]


def _is_missing(one: RawError) -> bool:
    """Whether it says that something is not there: after leaving out, that says nothing of the file."""
    return one["type"] in {"missing", NOTHING_GIVEN}


def _errors(model: type[BaseModel], values: object, back: Mapping[Path, Path]) -> list[RawError]:
    """What the validator says: `loc` is the place in the file, `as` the same with every key spelt right."""
    try:
        model.model_validate(values)
    except ValidationError as error:
        found: list[RawError] = [dict(one) for one in error.errors(include_url=False)]
        return [one | {"loc": _origin(one["loc"], back), "as": one["loc"]} for one in found]
    return []


def _origin(loc: Path, back: Mapping[Path, Path]) -> Path:
    for cut in range(len(loc), 0, -1):
        if loc[:cut] in back:
            return back[loc[:cut]] + loc[cut:]
    return loc


def _leave_out(
    found: list[RawError],
    values: Mapping[str, Any],
    nearest: Nearest,
    drops: set[Path],
    names: dict[Path, str],
) -> None:
    """Mark what is wrong to be left out, or an unknown key to be taken by the name it is nearest to."""
    for one in found:
        loc = one["loc"]
        if _is_missing(one):
            continue
        near = nearest(one["as"]) if one["type"] == "extra_forbidden" and loc not in names else None
        taken = {name for path, name in names.items() if path[:-1] == loc[:-1]}
        if near is not None and near not in taken and near not in _at(values, loc[:-1]):
            names[loc] = near
        else:
            drops.add(loc)


def _at(values: Any, loc: Path) -> Any:
    for part in loc:
        values = values[part]
    return values


def _mended(
    value: Any, here: Path, now: Path, drops: set[Path], names: Mapping[Path, str], back: dict[Path, Path]
) -> Any:
    """The value without what is left out; `back` learns where each part of it stood."""
    back[now] = here
    if isinstance(value, Mapping):
        kept = [(key, part) for key, part in value.items() if (*here, key) not in drops]
        named = [(names.get((*here, key), key), key, part) for key, part in kept]
        return {
            name: _mended(part, (*here, key), (*now, name), drops, names, back) for name, key, part in named
        }
    if isinstance(value, list):
        left = [(i, part) for i, part in enumerate(value) if (*here, i) not in drops]
        return [
            _mended(part, (*here, i), (*now, at), drops, names, back) for at, (i, part) in enumerate(left)
        ]
    return value
