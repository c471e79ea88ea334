"""TOML that is none: what the parser finds wrong in plain words, and more than its first find."""

import re
import tomllib
from typing import Any, Final, NamedTuple

from cogwright.core.common.errors import Problem
from cogwright.core.common.safe_text import clean

_PLACE: Final = re.compile(r" \(at (?:line (\d+), column (\d+)|end of document)\)$")
_HINTS: Final = {
    "Invalid value": 'text goes in "double quotes", a number without; a list in [brackets]',
    "Cannot overwrite": "the key stands there twice: keep one",
    "Cannot declare": "the table stands there twice: put its keys together",
    "Cannot mutate": "the key stands there twice: keep one",
    "Expected newline": "write one key = value to a line",
    "Expected '='": "write key = value",
    "Expected ']'": "close the [table] name with ]",
    "Invalid statement": "write key = value, or [table]",
    "Unclosed array": "close the list with ] and put commas between its elements",
    "Unclosed inline": "close the table with }",
    "Unterminated string": "close the text with a quote",
    "Illegal character": "take that character out, or close the text with a quote on its line",
    "Invalid initial character": "start the key with a letter",
    "Unescaped": "write \\\\ for a backslash",
    "Invalid hex": "write \\\\ for a backslash",
}
#: A whole `key = value` on one line: such a line can be left out to look for what else is wrong.
_PAIR: Final = re.compile(r"""\s*[\w."'-]+\s*=""")
_MOST: Final = 20
#: A key of so many parts that reading it would take the parser minutes.
_DEEP_KEY: Final = re.compile(r"""(?<![\w"'-])(?>[\w"'-]+[ \t]*\.[ \t]*){60}""")


class Loaded(NamedTuple):
    """The values of a TOML text, the part of the text (in its lines) that gave them, and what is wrong."""

    values: dict[str, Any]
    text: str
    problems: list[Problem]


def load(text: str) -> Loaded:
    """What can be read of a TOML text.

    tomllib stops at the first error. Where that is in a line that stands by itself, the line is left out and
    the rest is read, so that all is said at once; otherwise nothing is.
    """
    problems: list[Problem] = []
    if deep := _DEEP_KEY.search(text):
        at = text.count("\n", 0, deep.start()) + 1
        problems.append(Problem("a key has too many parts", "write [table] and key = value", line=at))
        return Loaded({}, "", problems)
    lines = text.split("\n")
    while len(problems) < _MOST:
        try:
            return Loaded(tomllib.loads("\n".join(lines)), "\n".join(lines), problems)
        except RecursionError:
            problems.append(Problem("brackets stand inside brackets too deep", "write plain lists", line=1))
            break
        except ValueError as error:
            problems.append(_syntax(str(error), text))
            if not _left_out(lines, str(error)):
                break
    return Loaded({}, "", problems)


def _left_out(lines: list[str], message: str) -> bool:
    """Empty the line of the error; False where other lines may hang on it."""
    place = _PLACE.search(message)
    if place is None or place[1] is None or message.startswith(("Unclosed", "Cannot declare")):
        return False
    at = int(place[1]) - 1
    line = lines[at]
    alone = _PAIR.match(line) and line.count("[") == line.count("]") and line.count("{") == line.count("}")
    if not alone or '"""' in line or "'''" in line:
        return False
    lines[at] = ""
    return True


def _syntax(message: str, text: str) -> Problem:
    """A message of the TOML parser as a problem with its line."""
    place = _PLACE.search(message)
    said = clean(_PLACE.sub("", message))[:200]
    mend = next((hint for start, hint in _HINTS.items() if said.startswith(start)), "")
    if "digits" in said:
        said, mend = "a number has too many digits", "write a number that a bike can have"
    if place is None:
        return Problem(f"not valid TOML: {said}", mend, line=1)
    if place[1] is None:
        return Problem(f"not valid TOML: {said} at the end", mend, line=text.rstrip().count("\n") + 1)
    return Problem(f"not valid TOML: {said}, column {place[2]}", mend, line=int(place[1]))
