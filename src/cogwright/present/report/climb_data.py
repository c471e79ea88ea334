"""The answer to a climb, and pairs without a tensioner, as data. Scripts rely on the keys: only add."""

from collections.abc import Sequence
from typing import Final

from cogwright.core.common.units import percent
from cogwright.core.drive.pairs import StayPair
from cogwright.core.riding.needed import Answer
from cogwright.present.report.values import Data, gear_keys, rounded

DECIMALS: Final = 4


def climb_json(answer: Answer | None) -> Data | None:
    """What was asked, what it needs, which gear serves; None where nothing was asked."""
    if answer is None:
        return None
    needed = answer.needed
    return {
        "grade_pct": needed.climb.grade_pct,
        "load_kg": needed.load_kg,
        "rpm": needed.rpm,
        "effort": "short" if needed.climb.briefly else "all-day",
        "power_w": _r(needed.effort.power_w),
        "speed_kmh": _r(needed.kmh),
        "development_m": _r(needed.development_m),
        "walking_is_quicker": needed.walks,
        "gear": None if answer.gear is None else gear_keys(answer.gear),
        "easiest": gear_keys(answer.easiest),
        "easiest_rpm": _r(answer.easiest_rpm),
    }


def pairs_json(pairs: Sequence[StayPair], wheel_m: float, wanted_m: float) -> list[Data]:
    """Pairs, nearest to the wanted development first."""
    return [
        {
            "ring": pair.ring,
            "cog": pair.cog,
            "links": pair.links,
            "development_m": _r(pair.ring / pair.cog * wheel_m),
            "off_pct": _r(percent(pair.ring / pair.cog * wheel_m / wanted_m)),
            "right": pair.mark,
            "new_mm": None if pair.new_mm is None else _r(pair.new_mm),
            "worn_mm": _r(pair.worn_mm),
        }
        for pair in pairs
    ]


def _r(value: float) -> float | None:
    return rounded(value, DECIMALS)
