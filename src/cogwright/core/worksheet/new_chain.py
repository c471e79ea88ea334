"""What the chain of an order makes of gears that the chain on the bike is too short for."""

from dataclasses import replace
from functools import lru_cache

from cogwright.core.gears.gears import Gear
from cogwright.core.study import Study
from cogwright.core.worksheet.build import order_sheet


@lru_cache(maxsize=8)
def with_new_chain(study: Study) -> Study:
    """A study with the chain of its order on, as the bike goes home; itself where that makes no gear safe.

    Kept for the studies last seen.
    """
    sheet = order_sheet(study) if study.beyond_chain else None
    if sheet is None:
        return study
    done = replace(study, bench=sheet.after)
    return done if len(done.beyond_chain) < len(study.beyond_chain) else study


def only_with_new_chain(study: Study) -> tuple[Gear, ...]:
    """The gears that the order's chain makes safe, and the chain on the bike does not; easiest first."""
    still = {*with_new_chain(study).beyond_chain}
    return tuple(gear for gear in study.beyond_chain if gear not in still)
