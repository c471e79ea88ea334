"""Checks of wear: what can stay, as far as somebody has measured or looked."""

from typing import Final

from cogwright.core.figures import Figures
from cogwright.core.fit.applies import for_chains
from cogwright.core.fit.check import COMMON, Check, Status
from cogwright.core.wear.staying import Fate, WearVerdict, cassette_verdict, chain_verdict, rings_verdict
from cogwright.core.wear.stretch import reaches, slips_at

_STATUS: Final = {
    Fate.STAYS: Status.OK,
    Fate.DUE: Status.CAUTION,
    Fate.DOUBTFUL: Status.CAUTION,
    Fate.GOES: Status.PROBLEM,
    Fate.UNKNOWN: Status.UNKNOWN,
}


@for_chains
def chain_wear(figures: Figures) -> Check | None:
    """The chain's stretch against that at which it is changed."""
    own = figures.bench.limits.chain_wear_pct is not None
    return _check("chain wear", chain_verdict(figures.bench, figures.baseline), "%", own)


@for_chains
def cassette_wear(figures: Figures) -> Check | None:
    """What chains had stretched to on this cassette, against that at which a new chain slips.

    While the worn chain is still on it, that is no more than a caution: the two run together.
    """
    own = figures.bench.limits.slip_pct is not None
    found = _check("new on worn", cassette_verdict(figures.bench, figures.baseline), "%", own)
    worn = figures.bench.wear.stretch_pct
    together = worn is not None and reaches(worn, slips_at(figures.bench))
    if found is None or found.status is not Status.PROBLEM or not together:
        return found
    return found._replace(status=Status.CAUTION)


def ring_wear(figures: Figures) -> Check | None:
    """The teeth of the rings."""
    return _check("ring wear", rings_verdict(figures.bench, figures.baseline), "km", own=True)


def _check(name: str, verdict: WearVerdict | None, unit: str, own: bool) -> Check | None:
    if verdict is None:
        return None
    status = _STATUS[verdict.fate]
    say = verdict.say if status is not Status.UNKNOWN else f"{verdict.say} in the setup"
    judged_by_limit = (
        verdict.figure is not None and verdict.limit is not None and status is not Status.UNKNOWN
    )
    default = judged_by_limit and not own
    basis = f"; {COMMON}, the maker's limit wins" if default and status is not Status.OK else ""
    bar = (verdict.figure, verdict.limit) if verdict.figure is not None and verdict.limit else None
    return Check(name, status, verdict.figure, verdict.limit, unit, say + basis, bar, default=default)
