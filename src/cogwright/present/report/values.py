"""Values that the JSON reports share: figures rounded, and gears named by their sprockets."""

from typing import Final

from cogwright.core.gears.gears import Gear

#: An object of JSON, by its keys.
Data = dict[str, object]
#: Decimals kept in JSON and CSV: beyond any measurement, short of the noise of binary fractions.
DECIMALS: Final = 6


def rounded(value: float | None, decimals: int = DECIMALS) -> float | None:
    """The figure to so many decimals; None stays None."""
    return None if value is None else round(value, decimals)


def gear_keys(gear: Gear) -> dict[str, object]:
    """A gear's ring, cog and hub ratio."""
    return {"ring": gear.ring, "cog": gear.cog, "hub": gear.hub}
