"""Checks of the front derailleur beyond its limits: how far it reaches, and which rings suit its cage."""

from itertools import pairwise

from cogwright.core.chain.line import chainline_of
from cogwright.core.figures import Figures
from cogwright.core.fit.check import COMMON, Check, Status, needs


def cage_reach(figures: Figures) -> Check | None:
    """The way across the rings against how far the cage goes sideways, where the setup says so."""
    setup = figures.bench
    reach = setup.front_derailleur.reach_mm
    if reach is None or len(setup.crank.rings) == 1:
        return None
    gaps, assumed = chainline_of(setup).ring_gaps_mm, setup.crank.ring_spacing_mm is None
    if gaps is None:
        return needs("cage reach", "mm", None, "crank.ring_spacing_mm")
    figure = sum(gaps)
    basis = f" ({COMMON}: rings {gaps[0]:g} mm apart)" if assumed else ""
    bar = (figure, reach)
    if figure <= reach + 1e-9:
        say = f"the cage goes over all rings{basis}"
        return Check("cage reach", Status.OK, figure, reach, "mm", say, bar, default=assumed)
    say = f"the cage does not get to the outermost ring: bring the rings closer, or fit another{basis}"
    return Check("cage reach", Status.PROBLEM, figure, reach, "mm", say, bar, default=assumed)


def ring_difference(figures: Figures) -> Check | None:
    """The smallest step between neighbouring rings against the least that the cage's shape wants."""
    setup = figures.bench
    least = setup.front_derailleur.smallest_difference
    if least is None or len(setup.crank.rings) == 1:
        return None
    figure = min(after - before for before, after in pairwise(setup.crank.rings))
    if figure >= least:
        say = "the cage's inner plate clears the larger ring"
        return Check("ring difference", Status.OK, figure, least, "teeth", say, least=True)
    say = "the cage's inner plate can strike the larger ring: take rings farther apart, or another derailleur"
    return Check("ring difference", Status.CAUTION, figure, least, "teeth", say, least=True)


def cage_curve(figures: Figures) -> Check | None:
    """The largest ring against the ring sizes that the curve of the cage is made for."""
    setup = figures.bench
    made_for = setup.front_derailleur.curve_teeth
    if made_for is None or len(setup.crank.rings) == 1:
        return None
    low, high = made_for
    ring = setup.crank.rings[-1]
    if ring < low:
        say = f"made for rings of {low} to {high}: the cage stands off a ring of {ring}, expect slow shifts"
        return Check("cage curve", Status.CAUTION, ring, low, "teeth", say, least=True)
    if ring > high:
        say = f"made for rings of {low} to {high}: the cage's tail touches a ring of {ring}, or stands high"
        return Check("cage curve", Status.CAUTION, ring, high, "teeth", say, (float(ring), float(high)))
    say = f"made for rings of {low} to {high}"
    return Check("cage curve", Status.OK, ring, high, "teeth", say, (float(ring), float(high)))
