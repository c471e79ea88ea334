"""Tooth counts that are made and sold everywhere, and those that are not (common practice, no source)."""

from collections.abc import Iterable
from typing import Final

#: Rings: the even ones, and the odd ones of common pairs.
COMMON_RINGS: Final = frozenset({*range(20, 60, 2), 33, 39, 53})
#: Cogs: every count up to 28, the even ones above.
COMMON_COGS: Final = frozenset({*range(9, 29), *range(30, 53, 2)})
RARE: Final = "rare"


def rare_cogs(cogs: Iterable[int], known: Iterable[int] = ()) -> tuple[int, ...]:
    """The cogs that are hard to come by and not there already.

    >>> rare_cogs((11, 13, 29, 33), known=(33,))
    (29,)
    """
    return tuple(sorted(set(cogs) - COMMON_COGS - set(known)))
