"""What a validator found wrong in a file, in plain words, each with its line and how to mend it."""

from collections.abc import Mapping
from difflib import get_close_matches
from functools import lru_cache
from typing import Any, Final

from pydantic import BaseModel

from cogwright.core.common.errors import Problem
from cogwright.core.common.safe_text import clean
from cogwright.store.every_error import RawError, every_error
from cogwright.store.toml_lines import Path, line_of

_UNITS: Final = {
    "mm": "mm",
    "m": "m",
    "m2": "m2",
    "kg": "kg",
    "w": "W",
    "rpm": "rpm",
    "pct": "%",
    "deg": "degrees",
    "g": "g",
    "km": "km",
    "kmh": "km/h",
    "nm": "Nm",
    "n": "N",
}
_TEETH: Final = {"rings", "cogs", "carriers", "cog", "ring", "capacity", "teeth", "difference"}
_NOT_THIS_TYPE: Final = {
    "int_type": "a whole number",
    "int_from_float": "a whole number",
    "float_type": "a number",
    "finite_number": "a finite number",
    "string_type": 'text in "double quotes"',
    "bool_type": "true or false",
    "tuple_type": "a list in [brackets]",
    "list_type": "a list in [brackets]",
    "date_type": "a date such as 2026-05-31",
    "model_type": "a table",
    "dict_type": "a table",
    "model_attributes_type": "a table",
}
_WORDS: Final = {
    "string": 'text in "double quotes"',
    "boolean": "true or false",
    "date": "a date such as 2026-05-31",
}
_MOST: Final = 50
#: What a model's JSON schema says of one place.
Schema = Mapping[str, Any]


def problems_in(
    values: Mapping[str, Any], model: type[BaseModel], lines: Mapping[Path, int], partial: bool = False
) -> list[Problem]:
    """What is wrong in a file's values, 50 things at most; in `partial` data, of single values only."""
    found = every_error(model, values, lambda loc: _nearest(loc, model))
    if partial:
        found = [one for one in found if one["type"] != "missing" and not isinstance(one["input"], dict)]
    newer = [one for one in found if one["loc"] == ("format",)]
    kept = newer or [one for one in found if not _follows(one, found)]
    kept.sort(key=lambda one: line_of(lines, one["loc"]))
    named = [_problem(one, model, lines) for one in kept[:_MOST]]
    if len(kept) > _MOST:
        named.append(Problem(f"{len(kept) - _MOST} more problems", "mend these first", line=named[-1].line))
    return named


def wanted(model: type[BaseModel], key: str) -> str:
    """What a dotted key takes, with its unit: `20 to 80 mm`; empty where the model does not say."""
    loc = tuple(key.split("."))
    schema = _at(model, loc)
    takes, more = _wanted(schema, loc), schema.get("description", "")
    return f"{takes}, {more}" if takes and more else takes


def _follows(one: RawError, found: list[dict[str, Any]]) -> bool:
    """Whether a list counts as too short only because its elements are wrong themselves."""
    loc = one["loc"]
    return one["type"] == "too_short" and any(
        len(other["loc"]) > len(loc) and other["loc"][: len(loc)] == loc for other in found
    )


def _problem(one: RawError, model: type[BaseModel], lines: Mapping[Path, int]) -> Problem:
    loc: Path = one["loc"]
    what, mend = _words(one, one["as"], model)
    return Problem(what, mend, dotted(loc), line=line_of(lines, loc))


def dotted(loc: Path) -> str:
    """A place in a file as it is spoken of: the third of `rear.cogs` is `rear.cogs[3]`.

    >>> dotted(("rear", "cogs", 2))
    'rear.cogs[3]'
    """
    out = ""
    for part in loc:
        out += f"[{part + 1}]" if isinstance(part, int) else ("." if out else "") + clean(part)[:60]
    return out


def _words(one: RawError, loc: Path, model: type[BaseModel]) -> tuple[str, str]:
    kind, context = one["type"], one.get("ctx", {})
    schema = _at(model, loc)
    if loc == ("format",):
        return _format_words(one["input"])
    if kind == "missing":
        return _missing(loc, schema, model)
    if kind == "extra_forbidden":
        return _unknown(loc, model)
    if kind in _NOT_THIS_TYPE:
        expected = _NOT_THIS_TYPE[kind]
        return f"{shown(one['input'])} is not {expected}", f"give {_wanted(schema, loc) or expected}"
    if "mend" in context:
        return clean(str(context["what"])), clean(str(context["mend"]))
    return _limit_words(one, schema, loc)


def _limit_words(one: RawError, schema: Schema, loc: Path) -> tuple[str, str]:
    kind, context = one["type"], one.get("ctx", {})
    given = shown(one["input"])
    least, most = context.get("min_length"), context.get("max_length")
    expected = context.get("expected") or context.get("expected_tags")
    known = {
        "greater_than_equal": (f"{given} is too small", f"give {_wanted(schema, loc)}"),
        "greater_than": (f"{given} is too small", f"give more than {context.get('gt')}"),
        "less_than_equal": (f"{given} is too large", f"give {_wanted(schema, loc)}"),
        "less_than": (f"{given} is too large", f"give less than {context.get('lt')}"),
        "too_short": ("too few stand in the list", f"give {least} or more"),
        "too_long": ("too many stand in the list", f"give {most} at most"),
        "string_too_short": ("the text is empty", "write something between the quotes"),
        "string_too_long": ("the text is too long", f"use {most} characters at most"),
        "literal_error": (f"{given} is not known here", f"give {expected}"),
        "union_tag_invalid": (f"{given} is not known here", f"give {expected}"),
    }
    return known.get(kind, (f"{given} cannot be used: {one['msg']}", ""))


def _format_words(given: object) -> tuple[str, str]:
    if isinstance(given, int) and given > 1:
        what = f"format {shown(given)} was made by a newer program than this one"
        return what, "update cogwright, or write the file anew with format = 1"
    return f"{shown(given)} is no known format", "write format = 1"


def _missing(loc: Path, schema: Schema, model: type[BaseModel]) -> tuple[str, str]:
    name = loc[-1]
    if isinstance(name, int):
        return "the list is too short", f"give {len(_at(model, loc[:-1]).get('prefixItems', ())) or 'more'}"
    if schema.get("type") == "object":
        needs = ", ".join(schema.get("required", ()))
        return "the table is missing", f"add [{dotted(loc)}]" + (f" with {needs}" if needs else "")
    under = f" under [{dotted(loc[:-1])}]" if len(loc) > 1 else " at the top of the file"
    return "the key is missing", f"add {name} ={_wanted_after(schema, loc)}{under}"


def _wanted_after(schema: Schema, loc: Path) -> str:
    wanted = _wanted(schema, loc)
    return f" ({wanted})" if wanted else " ..."


def _unknown(loc: Path, model: type[BaseModel]) -> tuple[str, str]:
    """An unknown key: the nearest known one, or the table where the key is known, or all known ones."""
    name = str(loc[-1])
    known = list(_at(model, loc[:-1]).get("properties", {}))
    if elsewhere := _tables_with(model, name):
        return "this key does not stand here", f"put it under {' or '.join(elsewhere)}"
    if near := _nearest(loc, model):
        return "unknown key", f"did you mean {near}?"
    return "unknown key", "take it out; known here: " + ", ".join(known)


def _nearest(loc: Path, model: type[BaseModel]) -> str | None:
    """The known key that an unknown one is nearest to; None where none is near, or another table has it."""
    name = str(loc[-1])
    known = list(_at(model, loc[:-1]).get("properties", {}))
    near = get_close_matches(name[:60].lower(), known, n=1, cutoff=0.6)
    return near[0] if near and not _tables_with(model, name) else None


def _tables_with(model: type[BaseModel], name: str) -> list[str]:
    top = _schema(model)
    tables = [(f"[{key}]", _resolved(top, part)) for key, part in top.get("properties", {}).items()]
    found = [label for label, part in tables if name in part.get("properties", {})]
    return found + (["the top of the file"] if name in top.get("properties", {}) else [])


def _wanted(schema: Schema, loc: Path) -> str:
    """The values that would do, with their unit: `6 to 130 teeth`; empty when the schema does not say."""
    kind = schema.get("type")
    if kind == "array":
        inner = _wanted(schema.get("items") or {}, loc)
        return f"a list in [brackets] of {inner}" if inner else "a list in [brackets]"
    if "enum" in schema:
        return f"one of {', '.join(schema['enum'])}"
    if kind not in {"integer", "number"}:
        return _WORDS.get(str(schema.get("format", kind)), "")
    number = "a whole number" if kind == "integer" else "a number"
    low, high, unit = schema.get("minimum"), schema.get("maximum"), _unit(loc)
    if low is None and high is None:
        return number + (f" in {unit}" if unit else "")
    if high is None:
        return f"{low:g} or more {unit}".rstrip()
    return (f"{low:g} to {high:g} {unit}" if low is not None else f"{high:g} or less {unit}").rstrip()


def _unit(loc: Path) -> str:
    name = next((part for part in reversed(loc) if isinstance(part, str)), "")
    last = name.rsplit("_", 1)[-1]
    if last == "cogs" and loc[0] == "chain":
        return "cogs"
    if last in _TEETH:
        return "teeth"
    return "links" if last == "links" else _UNITS.get(last, "") if "_" in name else ""


def shown(value: object) -> str:
    """A value from a file in a few cleaned characters, as the file would have it."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        text = clean(value)
        return f'"{text[:30]}~"' if len(text) > 30 else f'"{text}"'
    if isinstance(value, int) and abs(value) > 10**18:
        return "a number with too many digits"
    if isinstance(value, int | float):
        return str(value)
    return "a table" if isinstance(value, Mapping) else "a list" if isinstance(value, list) else "a date"


@lru_cache(maxsize=16)
def _schema(model: type[BaseModel]) -> dict[str, Any]:
    return model.model_json_schema()


def _at(model: type[BaseModel], loc: Path) -> Schema:
    """The JSON schema of what belongs at a place; empty where the model knows nothing of it."""
    top = _schema(model)
    here: Schema = _resolved(top, top)
    for part in loc:
        if isinstance(part, str):
            here = here.get("properties", {}).get(part, {})
        else:
            fixed = here.get("prefixItems", [])
            here = fixed[part] if part < len(fixed) else here.get("items") or {}
        here = _resolved(top, here)
    return here


def _resolved(top: Schema, schema: Schema) -> Schema:
    """The schema behind a reference, or that of an optional one which is not null, and what is said of it."""
    if "anyOf" in schema:
        told = {"description": schema["description"]} if "description" in schema else {}
        schema = told | next((one for one in schema["anyOf"] if one.get("type") != "null"), {})
    if "$ref" in schema:
        found: Schema = top.get("$defs", {}).get(schema["$ref"].rsplit("/", 1)[-1], {})
        return found
    return schema
