"""What can stay on the bike and what goes, by its measured wear."""

from enum import StrEnum
from typing import Final, NamedTuple

from cogwright.core.common.words import count, listed
from cogwright.core.setup.model import Setup
from cogwright.core.wear.stretch import change_at, reaches, slips_at

_WORN: Final = " and its teeth are worn"
_TRY: Final = "a new chain may slip on the cogs most used, try it under load first"


class Fate(StrEnum):
    """What becomes of a worn part."""

    STAYS = "can stay"
    DUE = "due"
    DOUBTFUL = "doubtful"
    GOES = "must go"
    UNKNOWN = "not known"


class WearVerdict(NamedTuple):
    """One part: its fate, what that rests on (stretch in %, km), the limit for it, and the same in words."""

    part: str
    fate: Fate
    figure: float | None
    limit: float | None
    say: str


def chain_verdict(setup: Setup, baseline: Setup | None = None) -> WearVerdict | None:
    """The chain, by its stretch; None where nobody has measured it."""
    pct, limit = setup.wear.stretch_pct, change_at(setup)
    if pct is None:
        return None
    rule = f"{limit:g} % with {count(len(setup.rear.cogs), 'cog')}"
    new = _new_cogs(setup, baseline)
    on_new = f"; on the new {_cogs(new)} it wears them fast and can slip" if new else ""
    if reaches(pct, slips_at(setup)):
        return WearVerdict("chain", Fate.GOES, pct, limit, f"worn out, it can jump ({rule}){on_new}")
    if reaches(pct, limit):
        say = f"change it before it wears the cogs ({rule}){on_new}"
        return WearVerdict("chain", Fate.DUE, pct, limit, say)
    return WearVerdict("chain", Fate.STAYS, pct, limit, f"changed from {rule}{_left(setup, pct)}")


def cassette_verdict(setup: Setup, baseline: Setup | None = None) -> WearVerdict | None:
    """The cassette under a new chain, by its teeth or by how far chains stretched on it; None if unknown."""
    state, pct, slips = setup.wear.cassette_state, setup.wear.worn_by_pct, slips_at(setup)
    new = _new_cogs(setup, baseline)
    known = not (state is None and pct is None and setup.wear.cassette_km is None)
    if state == "new" or (known and len(new) == len(setup.rear.cogs)):
        return _new(setup, slips)
    if state == "hooked":
        return WearVerdict(
            "cassette", Fate.GOES, pct, slips, "hooked teeth: a new chain slips on it under load"
        )
    if pct is None:
        return _by_state(state, setup.wear.cassette_km, slips)
    ran = f"a chain ran on it to {pct:.2f} %" + (f" ({_cogs(new)} new)" if new else "")
    if reaches(pct, slips):
        say = f"{ran}: a new one is likely to slip, fit a new cassette with it"
        return WearVerdict("cassette", Fate.GOES, pct, slips, say)
    if reaches(pct, change_at(setup)) or state == "worn":
        return WearVerdict(
            "cassette", Fate.DOUBTFUL, pct, slips, f"{ran}{_WORN if state == 'worn' else ''}: {_TRY}"
        )
    return WearVerdict("cassette", Fate.STAYS, pct, slips, _ran(setup, pct))


def _new(setup: Setup, slips: float) -> WearVerdict:
    """A new cassette; in doubt where the chain on it is worn, for nobody knows how long it ran there."""
    pct = setup.wear.stretch_pct
    if pct is None or not reaches(pct, change_at(setup)):
        return WearVerdict("cassette", Fate.STAYS, 0.0, slips, "new")
    say = f"new, with a chain of {pct:.2f} % on it: it wears the cogs to its own pitch; fit a new one with it"
    return WearVerdict("cassette", Fate.DOUBTFUL, pct, slips, say)


def _ran(setup: Setup, pct: float) -> str:
    """How far chains ran on the cassette, and whether that says all."""
    if setup.wear.changed_at_pct is None:
        return f"this chain ran on it to {pct:.2f} %; how far the ones before did is not given"
    return f"no chain ran on it beyond {pct:.2f} %"


def _by_state(state: str | None, km: float | None, slips: float) -> WearVerdict | None:
    """What can be said of a cassette on which nobody has measured a chain."""
    if state == "worn":
        return WearVerdict("cassette", Fate.DOUBTFUL, None, slips, f"worn teeth: {_TRY}")
    if state == "good":
        return WearVerdict("cassette", Fate.STAYS, None, slips, "teeth in good shape")
    if km is None:
        return None
    return WearVerdict(
        "cassette", Fate.UNKNOWN, None, slips, "needs wear.changed_at_pct or wear.cassette_state"
    )


def rings_verdict(setup: Setup, baseline: Setup | None = None) -> WearVerdict | None:
    """The rings, by their teeth; None where nobody has said anything of them.

    What was said of them holds for those that the baseline has too.
    """
    state, km = setup.wear.rings_state, setup.wear.rings_km
    if not (state is None and km is None) and baseline is not None:
        kept = [ring for ring in setup.crank.rings if ring in baseline.crank.rings]
        if not kept:
            return WearVerdict("rings", Fate.STAYS, None, None, "new")
    if state is None:
        return None if km is None else WearVerdict("rings", Fate.UNKNOWN, km, None, "needs wear.rings_state")
    said = {
        "hooked": (Fate.GOES, "hooked teeth hold on to the chain and let it jump: new rings"),
        "worn": (Fate.DOUBTFUL, "worn teeth: look at them again with each new chain"),
        "good": (Fate.STAYS, "teeth in good shape"),
        "new": (Fate.STAYS, "new"),
    }
    return WearVerdict("rings", said[state][0], km, None, said[state][1])


def verdicts(setup: Setup, baseline: Setup | None = None) -> tuple[WearVerdict, ...]:
    """Every part of which something is known."""
    found = (judge(setup, baseline) for judge in (chain_verdict, cassette_verdict, rings_verdict))
    return tuple(verdict for verdict in found if verdict is not None)


def _left(setup: Setup, pct: float) -> str:
    """How far the chain may go yet at the rate so far, in words; empty when nobody knows how far it went."""
    km = setup.wear.chain_km
    if not km or pct <= 0.0:
        return ""
    return f"; about {km * (change_at(setup) / pct - 1.0):.0f} km from now at the rate so far"


def _new_cogs(setup: Setup, baseline: Setup | None) -> tuple[int, ...]:
    """Cogs that the baseline has not, where anything of it stays: those are new."""
    if baseline is None:
        return ()
    return tuple(cog for cog in setup.rear.cogs if cog not in baseline.rear.cogs)


def _cogs(cogs: tuple[int, ...]) -> str:
    return f"cog{'s' if len(cogs) > 1 else ''} {listed(cogs)}"
