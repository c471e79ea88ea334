"""Checks of fixed and single drives: skid patches, even wear, and what must not be on a fixed wheel."""

from typing import Final

from cogwright.core.common.words import count, listed
from cogwright.core.drive.fixed import common_factor, pairs_near, skid_patches
from cogwright.core.figures import Figures
from cogwright.core.fit.check import COMMON, Check, Status, needs

#: Skid patches from which a tyre lasts, and a common factor up to which teeth wear evenly enough (common
#: practice, no source).
PATCHES: Final = 5
FACTOR: Final = 2


def fixed_drive(figures: Figures) -> Check | None:
    """A fixed wheel pulls on both strands: nothing that gives way may hold the chain."""
    setup = figures.bench
    if not setup.rear.fixed:
        return None
    loose = ["a rear derailleur"] if figures.chain.tensioned else []
    loose += ["a chain tensioner"] if setup.frame.tensioner_links is not None else []
    if not loose:
        say = "both strands pull: see that the axle cannot slip and the chain has no slack to jump"
        return Check("fixed drive", Status.OK, 0, 0, "loose parts", say)
    say = (
        f"{listed(loose)} on a fixed wheel: braking with the legs draws the lower strand tight, tears it off"
        " and locks the wheel; take it off"
    )
    return Check("fixed drive", Status.PROBLEM, len(loose), 0, "loose parts", say)


def patches(figures: Figures) -> Check | None:
    """Places of the tyre that skids wear, against how many make it last."""
    setup = figures.bench
    if not setup.rear.fixed or figures.chain.tensioned or len(setup.rear.hub_ratios) > 1:
        return None
    ring, cog = figures.chain.largest
    found, own = skid_patches(ring, cog), setup.limits.skid_patches
    limit = PATCHES if own is None else own
    say = f"{found.one_foot} with the same foot in front, {found.either_foot} with either"
    basis = f" ({COMMON}: {limit})" if own is None else ""
    if found.one_foot >= limit:
        return Check(
            "skid patches", Status.OK, found.one_foot, limit, "patches", say, least=True, default=own is None
        )
    better = pairs_near(ring, cog, lambda front, back: skid_patches(front, back).one_foot >= limit)
    mend = f"{listed(better, 'or')} {'has' if len(better) == 1 else 'have'} {limit} or more" if better else ""
    say = f"{say}: skids soon wear the tyre through there{basis}{mend and f'; {mend}'}"
    return Check(
        "skid patches", Status.CAUTION, found.one_foot, limit, "patches", say, least=True, default=own is None
    )


def even_wear(figures: Figures) -> Check | None:
    """The common factor of ring and cog, where the setup says of a single cog whether it is fixed."""
    setup = figures.bench
    if setup.rear.fixed is None or figures.chain.tensioned or setup.belted:
        return None
    ring, cog = figures.chain.largest
    figure, own = common_factor(ring, cog), setup.limits.common_factor
    limit = FACTOR if own is None else own
    bar = (float(figure), float(limit))
    if figure <= limit:
        say = "the cog's teeth take their turn and wear evenly"
        return Check("even wear", Status.OK, figure, limit, "in common", say, bar, default=own is None)
    places = count(cog // figure, "place")
    better = pairs_near(ring, cog, lambda front, back: common_factor(front, back) == 1)
    say = f"{ring} and {cog} share {figure}: the push of a foot comes on the same {places} of the cog"
    say += f"; {listed(better, 'or')} would wear all evenly" if better else ""
    return Check("even wear", Status.CAUTION, figure, limit, "in common", say, bar, default=own is None)


def tensioner(figures: Figures) -> Check | None:
    """Slack of a single pair against what its chain tensioner takes up."""
    setup, chain = figures.bench, figures.chain
    limit = setup.frame.tensioner_links
    if limit is None or chain.tensioned or setup.belted:
        return None
    if chain.installed is None or chain.needed_pitches is None:
        return needs("tensioner", "links", None, *chain.missing)
    figure = chain.installed - chain.needed_pitches
    bar = (max(figure, 0.0), limit) if limit else None
    if figure < 0.0:
        say = f"the chain is {-figure:.2f} links too short to go round"
        return Check("tensioner", Status.PROBLEM, figure, limit, "links", say, bar)
    if figure <= limit:
        return Check("tensioner", Status.OK, figure, limit, "links", "takes up the slack", bar)
    shorter = f"cut the chain to {chain.fit_pitches} links" if chain.over_by else "take another pair"
    say = f"takes up {limit:g} links only: {shorter}"
    return Check("tensioner", Status.PROBLEM, figure, limit, "links", say, bar)
