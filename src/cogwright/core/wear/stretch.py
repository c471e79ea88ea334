"""How far a chain has stretched, and from where on it is changed.

Thresholds by the number of cogs are common practice, no source; the component maker's win, and the setup's
`[limits]`.
"""

from typing import Final

from cogwright.core.setup.model import Setup
from cogwright.core.setup.wear import NEW_MM

#: From so many cogs a chain is changed at the first stretch, with fewer at the second, %.
MANY_COGS: Final = 10
CHANGE_PCT: Final = (0.5, 0.75)
#: From this stretch of the chain that ran on it a cassette is likely to throw off a new chain, %.
SLIP_PCT: Final = (0.75, 1.0)
#: A ruler is read to a tenth of a mm: half of that on 304.8 mm, %.
READING_PCT: Final = 0.05 / NEW_MM * 100.0


def change_at(setup: Setup) -> float:
    """Stretch in % at which the setup's chain is changed: its own, else by the number of cogs."""
    return setup.limits.chain_wear_pct or _by_cogs(setup, CHANGE_PCT)


def slips_at(setup: Setup) -> float:
    """Stretch in % from which cogs worn with a chain are likely to throw off a new one."""
    return setup.limits.slip_pct or max(_by_cogs(setup, SLIP_PCT), change_at(setup))


def _by_cogs(setup: Setup, values: tuple[float, float]) -> float:
    return values[0] if len(setup.rear.cogs) >= MANY_COGS else values[1]


def reaches(pct: float, limit: float) -> bool:
    """Whether a stretch has come to a limit, as near as a ruler can be read: 1.5 mm more is 0.5 %.

    >>> from cogwright.core.setup.wear import stretch_of_length
    >>> reaches(stretch_of_length(304.8 + 1.5), 0.5), reaches(0.48, 0.5)
    (True, False)
    """
    return pct >= limit - READING_PCT
