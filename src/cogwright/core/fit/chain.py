"""Checks of the chain: its length, its slack, its width, its angle."""

from typing import Final

from cogwright.core.chain.length import ALLOWANCE, Room
from cogwright.core.chain.line import Chainline, worst
from cogwright.core.chain.slack import ChainFigures
from cogwright.core.common.words import count, few, listed
from cogwright.core.figures import Figures
from cogwright.core.fit.applies import for_chains
from cogwright.core.fit.check import COMMON, Check, Status, needs
from cogwright.core.setup.model import Setup

#: Outer width of the chain by the number of cogs, mm (common practice, no source).
OUTER_WIDTH_MM: Final[dict[int, tuple[float, float]]] = {
    5: (7.1, 7.8),
    6: (7.1, 7.8),
    7: (7.1, 7.3),
    8: (7.1, 7.3),
    9: (6.6, 6.7),
    10: (5.9, 6.1),
    11: (5.5, 5.6),
    12: (5.2, 5.3),
}
_SAME: Final = 1e-6
_NAMED: Final = 4


@for_chains
def chain_length(figures: Figures) -> Check:
    """The installed chain against the length that the largest pair needs."""
    chain = figures.chain
    if chain.clash:
        return Check("chain length", Status.PROBLEM, chain.installed, None, "links", chain.clash)
    if chain.fit_pitches is None:
        return needs("chain length", "links", chain.installed, *chain.missing)
    if not chain.tensioned:
        status, say = _taut(chain)
        links = (chain.installed, chain.fit_pitches)
        return Check("chain length", status, *links, "links", say, least=True)
    status, say = _length(chain)
    return Check(
        "chain length",
        status,
        chain.installed,
        chain.fit_pitches,
        "links",
        say,
        _bar(chain),
        least=True,
        default=True,
    )


def _bar(chain: ChainFigures) -> tuple[float, float] | None:
    """Links used and there, both over the smallest pair's way: where the difference shows."""
    if chain.installed is None or chain.least_pitches is None:
        return None
    floor = min(gear.pitches for gear in chain.per_gear) - 4.0
    return chain.least_pitches - floor, max(chain.installed - floor, 0.0)


def _length(chain: ChainFigures) -> tuple[Status, str]:
    if chain.installed is None:
        return (
            Status.UNKNOWN,
            f"needs chain.links in the setup; cut a new chain to {chain.fit_pitches} links",
        )
    if chain.short_by:
        return _short(chain, chain.largest_label)
    if chain.cut_to is not None:
        return Status.CAUTION, _too_long(chain)
    if chain.installed % 2 and not chain.setup.chain.half_link:
        return Status.CAUTION, f"{chain.installed} is an odd number: it joins only with a half link"
    spare = f", {count(chain.over_by, 'link')} over the rule" if chain.over_by else ""
    return Status.OK, f"reaches round {chain.largest_label} with two links to spare{_doubtful(chain)}{spare}"


def _doubtful(chain: ChainFigures) -> str:
    """That the two links are two only within what the stay is good to."""
    if chain.spare is None or chain.spare >= ALLOWANCE - _SAME:
        return ""
    return f" ({chain.spare:.2f}, and the stay is good to {chain.setup.frame.chainstay_tolerance_mm:g} mm)"


def _short(chain: ChainFigures, pair: str) -> tuple[Status, str]:
    """Under two links to spare: how bad that is, and what to fit."""
    fit = f"fit one of {chain.fit_pitches} links"
    if chain.room is Room.NOT_ROUND:
        return Status.PROBLEM, f"{short_sentence(chain)}, which it does not go round: do not ride; {fit}"
    if chain.room is Room.UNDER_ONE:
        return Status.PROBLEM, f"{short_sentence(chain)}; {fit}"
    spare = f"{chain.spare or 0.0:.1f} links to spare round {pair} where two are the rule"
    return Status.CAUTION, f"{spare}: go there by hand on the stand first, or {fit}"


def _too_long(chain: ChainFigures) -> str:
    over = f"{count(chain.over_by, 'link')} too long, cut to {chain.cut_to} links"
    if chain.take_up is None:
        return f"{over} (rear_derailleur.capacity would say whether it hangs slack)"
    return f"{over}: hangs slack in {some_of([gear.label for gear in chain.hanging])} (estimate)"


def short_sentence(chain: ChainFigures) -> str:
    """The warning that stands at the top of every view."""
    short = f"this chain is {count(chain.short_by, 'link')} short"
    return f"{short}: derailleur or hanger can be torn off on {chain.largest_label}"


def _taut(chain: ChainFigures) -> tuple[Status, str]:
    """The length without a derailleur: the axle takes up the rest, which is a check of its own."""
    pair = chain.largest_label
    if chain.installed is None or chain.needed_pitches is None:
        return Status.UNKNOWN, f"needs chain.links in the setup; {pair} takes {chain.fit_pitches} links"
    if chain.installed % 2 and not chain.setup.chain.half_link:
        return Status.CAUTION, f"{chain.installed} is an odd number: it joins only with a half link"
    rest = chain.installed - chain.needed_pitches
    if rest < -_SAME:
        say = f"{-rest:.2f} links less than the straight way round {pair}: only if the axle can come forward"
        return Status.CAUTION, say
    takes_up = "axle" if chain.setup.frame.tensioner_links is None else "tensioner"
    return Status.OK, f"{rest:.2f} links over the straight way round {pair}: the {takes_up} takes that up"


@for_chains
def axle_travel(figures: Figures) -> Check | None:
    """Without a derailleur: how far back the axle must move for the chain to be taut, against its way."""
    axle, chain, frame = figures.axle, figures.chain, figures.bench.frame
    if axle is None or (axle.travel_mm is None and frame.tensioner_links is not None):
        return None
    where = "back" if axle.move_mm >= 0 else "forward"
    say = f"with {axle.pitches} links the axle moves {where} {abs(axle.move_mm):.1f} mm"
    figure = round(axle.move_mm, 1)
    if axle.travel_mm is None:
        lacks = f"needs frame.axle_travel_mm in the setup; {say}"
        return Check("axle travel", Status.UNKNOWN, figure, None, "mm", lacks)
    status, bar = Status.OK, (max(axle.move_mm, 0.0), axle.travel_mm)
    if not axle.reachable:
        status = Status.PROBLEM
        other = f"fit a chain of {chain.fit_pitches} links, or another pair"
        mend = other if axle.pitches != chain.fit_pitches else "take another ring or cog"
        say = f"{say}, and it goes back {axle.travel_mm:g} mm only: {mend}"
    return Check("axle travel", status, figure, axle.travel_mm, "mm", say, bar if axle.travel_mm else None)


@for_chains
def chain_slack(figures: Figures) -> Check | None:
    """The slackest gear against what the derailleur takes up."""
    chain = figures.chain
    if not chain.tensioned or chain.fit_pitches is None or chain.installed is None:
        return None
    slackest = max(chain.per_gear, key=lambda gear: gear.at_rest or 0.0)
    slack = slackest.at_rest or 0.0
    if chain.take_up is None:
        return needs("chain slack", "links", round(slack, 1), "rear_derailleur.capacity")
    bar = (slack, chain.take_up)
    if not chain.hanging:
        say = f"most in {slackest.label}; the cage takes up about {chain.take_up:g} (estimate, good to one)"
        return Check("chain slack", Status.OK, slack, chain.take_up, "links", say, bar, default=True)
    where = some_of([gear.label for gear in chain.hanging])
    avoid = "shorten the chain" if len(figures.bench.crank.rings) == 1 else "avoid"
    say = f"hangs slack in {where}: {avoid}, or fit a longer cage (estimate)"
    return Check("chain slack", Status.CAUTION, slack, chain.take_up, "links", say, bar, default=True)


def width_band(setup: Setup) -> tuple[float, float] | None:
    """Least and greatest outer width of a chain for a setup's cogs, mm; its own, else common practice."""
    return setup.limits.chain_width_mm or OUTER_WIDTH_MM.get(len(setup.rear.cogs))


@for_chains
def chain_width(figures: Figures) -> Check | None:
    """The chain's outer width against what goes between so many cogs."""
    cogs, width = len(figures.bench.rear.cogs), figures.bench.chain.outer_width_mm
    if cogs == 1:
        return None
    own, band = figures.bench.limits.chain_width_mm, width_band(figures.bench)
    if width is None:
        return needs("chain width", "mm", None, "chain.outer_width_mm")
    if band is None:
        return needs("chain width", "mm", width, "limits.chain_width_mm")
    low, high = band
    goes = f"{low:g} to {high:g} mm go with {count(cogs, 'cog')} ({'setup' if own else COMMON})"
    default = own is None
    if width > high + _SAME:
        say = f"too wide, it rubs on the next cog: {goes}"
        return Check("chain width", Status.PROBLEM, width, high, "mm", say, default=default)
    if width < low - _SAME:
        say = f"narrow, it may shift badly or drop between cogs: {goes}"
        return Check("chain width", Status.CAUTION, width, low, "mm", say, least=True, default=default)
    return Check("chain width", Status.OK, width, high, "mm", goes, default=default)


@for_chains
def chain_angle(figures: Figures) -> Check:
    """The greatest chain angle, and the gears to avoid; on one ring those that wear sooner."""
    line = figures.chainline
    if line.missing:
        return needs("chain angle", "degrees", None, *line.missing)
    top = worst(line.angles)
    bar = (top.degrees, line.limit_deg)
    basis = f"; {COMMON}: {', '.join(line.assumed)}" if line.assumed else ""
    status, say = Status.OK, f"straight enough in every gear, most on {top.label}"
    if line.avoid:
        status, say = Status.CAUTION, f"avoid {some_of([angle.label for angle in line.avoid])}"
    elif line.wearing:
        status, say = Status.CAUTION, wear_sentence(line)
    default = bool(line.assumed)
    return Check(
        "chain angle", status, top.degrees, line.limit_deg, "degrees", say + basis, bar, default=default
    )


def wear_sentence(line: Chainline) -> str:
    """What the angle means on a single ring: nothing to avoid, for there is no other way to those cogs."""
    return f"chain and cogs wear sooner in {some_of([angle.label for angle in line.wearing])}"


def some_of(names: list[str]) -> str:
    """A few names in full, of many the first and how many more."""
    return listed(names) if len(names) <= _NAMED else few(names, _NAMED - 1)
