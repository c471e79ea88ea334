"""What the command line may say: a type for each kind of argument, with words for what it refuses.

The start of the app waits for this module: what only a subcommand needs stands with that.
"""

import sys
from argparse import ArgumentTypeError
from pathlib import Path
from typing import Final

from cogwright.core.common.numbers import number_in, whole_in

#: The exit status that a shell has for a program that Ctrl+C has ended.
INTERRUPTED: Final = 130


def path(text: str) -> Path:
    """A file or folder; an empty name, which would be this folder, is refused."""
    if not text.strip():
        raise ArgumentTypeError("the name is empty; name a file or folder")
    return Path(text)


def number(text: str) -> float:
    """A finite number from 0 up, with a decimal point or comma."""
    try:
        return number_in(text, 0.0)
    except ValueError as error:
        raise ArgumentTypeError(f"{text} is not a number from 0 up") from error


def length(text: str) -> float:
    """A development in m, above 0."""
    return _above_zero(text, "no gear goes 0 m: give a length above 0")


def seconds(text: str) -> float:
    """A time in s, above 0."""
    return _above_zero(text, "nothing is found in 0 s: give a time above 0")


def _above_zero(text: str, why: str) -> float:
    value = number(text)
    if value == 0:
        raise ArgumentTypeError(why)
    return value


def count(text: str) -> int:
    """How many proposals, 1 or more."""
    try:
        return whole_in(text, 1, sys.maxsize)
    except ValueError as error:
        raise ArgumentTypeError(f"{text} is not a number of proposals, 1 or more") from error
