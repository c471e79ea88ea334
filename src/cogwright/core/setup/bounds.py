"""Bounds of the values of a file, for `Annotated`.

Each hands pydantic the whole check in one piece: put together from the parts of a field it takes three times
as long, and a setup, of more than 150 values, is checked before the first frame.
"""

from collections.abc import Callable
from types import NoneType
from typing import Any, NamedTuple, get_args

from pydantic_core import CoreSchema
from pydantic_core.core_schema import (
    float_schema,
    int_schema,
    no_info_after_validator_function,
    nullable_schema,
    str_schema,
)


class _Number(NamedTuple):
    low: float
    high: float

    def __get_pydantic_core_schema__(self, kind: type, _: object) -> CoreSchema:
        kinds = get_args(kind) or (kind,)
        found: CoreSchema = float_schema(strict=True, ge=self.low, le=self.high, allow_inf_nan=False)
        if int in kinds:
            found = int_schema(strict=True, ge=int(self.low), le=int(self.high))
        return nullable_schema(found) if NoneType in kinds else found


class _Text(NamedTuple):
    least: int
    most: int
    check: Callable[[str], str]

    def __get_pydantic_core_schema__(self, _kind: type, _: object) -> CoreSchema:
        length = str_schema(strict=True, min_length=self.least, max_length=self.most)
        return no_info_after_validator_function(self.check, length)


def number(low: float, high: float) -> Any:
    """A finite number from `low` to `high`, a whole one of an int; or None, where that may stand too.

    >>> from typing import Annotated
    >>> from pydantic import TypeAdapter
    >>> TypeAdapter(Annotated[float, number(0, 5)]).validate_python(5)
    5.0
    >>> TypeAdapter(Annotated[int, number(3, 6)]).validate_python(6)
    6
    >>> TypeAdapter(Annotated[float | None, number(0, 5)]).validate_python(None)
    """
    return _Number(low, high)


def text(least: int, most: int, check: Callable[[str], str]) -> Any:
    """Text of `least` to `most` characters, and what `check` makes of it.

    >>> from typing import Annotated
    >>> from pydantic import TypeAdapter
    >>> TypeAdapter(Annotated[str, text(1, 3, str.strip)]).validate_python(" a ")
    'a'
    """
    return _Text(least, most, check)
