"""Checks of the wheel: its marking, and the race limit on its rollout."""

from typing import Final

from cogwright.core.figures import Figures
from cogwright.core.fit.chain import some_of
from cogwright.core.fit.check import Check, Status
from cogwright.core.gears.rollout import RolloutVerdict, Scrutiny
from cogwright.core.setup.sizes import parse_size
from cogwright.core.setup.unusual import cautions

_STATUS: Final = {
    RolloutVerdict.PASS: Status.OK,
    RolloutVerdict.TOO_CLOSE: Status.CAUTION,
    RolloutVerdict.FAIL: Status.PROBLEM,
}


def bead_seat(figures: Figures) -> Check | None:
    """A bead seat diameter that is not in common use; nothing is said of one that is."""
    size = parse_size(figures.bench.wheel.size or "")
    odd = [said for said in cautions(figures.bench) if said.key == "wheel.size"]
    if size is None or not odd:
        return None
    return Check("bead seat", Status.CAUTION, size[1], None, "mm", f"{odd[0].what}: {odd[0].mend}")


def rollout_limit(figures: Figures) -> Check | None:
    """The gears against the race limit, where the setup has one."""
    found = figures.scrutiny
    if found is None:
        return None
    figure = figures.summary.highest_m
    bar = (figure, found.limit_m)
    return Check("rollout", _STATUS[found.verdict], figure, found.limit_m, "m", rollout_sentence(found), bar)


def rollout_sentence(found: Scrutiny) -> str:
    """Which gears to block, and the largest legal one."""
    top = found.largest_legal
    legal = f"largest legal gear {top.label}, {top.development_m:.3f} m" if top else "no gear is legal"
    if found.verdict is RolloutVerdict.PASS:
        return f"pass: {legal}"
    over, close = ([gear.label for gear in gears] for gears in (found.over, found.close))
    said = [f"fail: block {some_of(over)}"] if over else []
    said += [f"{some_of(close)} too close to call: measure it"] if close else []
    return "; ".join([*said, legal])
