"""The work on the bike in the order that a mechanic does it, with the cautions that belong to each step."""

from collections.abc import Iterator, Mapping
from typing import Final

from cogwright.core.chain.slack import chain_of
from cogwright.core.common.words import count, listed
from cogwright.core.figures import Figures
from cogwright.core.fit.belt import TENSION
from cogwright.core.fit.chain import wear_sentence
from cogwright.core.fit.check import Status
from cogwright.core.fit.timing import timing_wear
from cogwright.core.indexing.indexing import rear_indexing
from cogwright.core.parts.bin import Labour
from cogwright.core.setup.model import Setup
from cogwright.core.setup.wear import NEW_MM
from cogwright.core.wear.staying import verdicts
from cogwright.core.wear.stretch import change_at
from cogwright.core.worksheet.sheet import Change, Job, WorkStep

TORQUE: Final = "torque as its maker states"
JOIN: Final = "join with a new pin or quick link made for it, and see it seat"
CHAIN: Final = ("before cutting, lay it round the largest pair by hand: two links to spare", JOIN)
#: Without a derailleur there is no allowance: the axle takes up the rest.
CHAIN_TAUT: Final = ("before cutting, lay it round ring and cog: the axle must have way left both ways", JOIN)
BELT: Final = "never bend it tight, twist it or lever it on"
#: How each job is said, its minutes (a field of Labour), and what to mind.
JOBS: Final[Mapping[Job, tuple[str, str, tuple[str, ...]]]] = {
    Job.WHEEL: ("Fit {to}", "hub", ("bead seated all round; room in the frame",)),
    Job.TYRE: ("Fit {to}", "tyre", ("bead seated all round; room in the frame",)),
    Job.HUB: ("Fit {to}", "hub", (f"axle nuts: {TORQUE}",)),
    Job.DRIVER: ("Fit {to}", "hub", (f"driver body: {TORQUE}",)),
    Job.CASSETTE: ("Fit {to}; spacers as they came", "cassette", (f"lock ring: {TORQUE}",)),
    Job.COGS: ("Fit {to}; spacers and shift marks in line", "loose_cogs", (f"lock ring: {TORQUE}",)),
    Job.FRONT_OFF: (
        "Take off the front derailleur, its cable and its shifter",
        "take_off_front",
        ("cap the cable stop; close the bar end",),
    ),
    Job.FRONT_ON: (
        "Fit front derailleur, front shifter and cable",
        "front_derailleur",
        (f"clamp: {TORQUE}",),
    ),
    Job.FRONT_SWAP: ("Change the front derailleur", "front_derailleur", (f"clamp: {TORQUE}",)),
    Job.CRANK: ("Fit {to}", "crank", (f"crank and bearing bolts: {TORQUE}",)),
    Job.RINGS: (
        "Change rings: {to}",
        "ring",
        (f"ring bolts of the right length, crosswise, {TORQUE}", "no touch at the frame"),
    ),
    Job.REAR_OFF: (
        "Take off the rear derailleur, its cable and its shifter",
        "take_off_rear",
        ("cap the cable stop; close the bar end",),
    ),
    Job.REAR_DERAILLEUR: (
        "Fit {to}",
        "rear_derailleur",
        (f"hanger straight by the gauge and without a crack; bolt: {TORQUE}",),
    ),
    Job.SHIFTER: ("Fit {to}, with a new cable", "shifter", (f"clamp: {TORQUE}",)),
    Job.NEW_CHAIN: ("Fit the chain: cut to {to}", "new_chain", CHAIN),
    Job.CUT_CHAIN: ("Shorten the chain: to {to}", "shorten_chain", CHAIN),
    Job.BELT: (
        "Fit the {to}",
        "new_chain",
        (BELT, "frame closed as its maker states"),
    ),
    Job.TIMING: (
        "Fit the {to}",
        "new_chain",
        ("both cranks in step; slack by the eccentric, and some play left where it is tightest", JOIN),
    ),
}
_AT_WHEEL: Final = (Job.HUB, Job.WHEEL, Job.TYRE, Job.DRIVER, Job.CASSETTE, Job.COGS)
_AT_CHAIN: Final = (Job.TIMING, Job.NEW_CHAIN, Job.CUT_CHAIN, Job.BELT)
#: Between the wheel and the chain, in this order.
_BETWEEN: Final = (
    Job.FRONT_OFF,
    Job.CRANK,
    Job.RINGS,
    Job.FRONT_ON,
    Job.FRONT_SWAP,
    Job.REAR_OFF,
    Job.REAR_DERAILLEUR,
    Job.SHIFTER,
)
_FRONT: Final = {Job.RINGS, Job.CRANK, Job.FRONT_ON, Job.FRONT_SWAP}


def steps_of(figures: Figures, changes: tuple[Change, ...], labour: Labour) -> tuple[WorkStep, ...]:
    """The whole work; none when nothing is to change."""
    if not changes:
        return ()
    jobs = {change.job for change in changes}
    by_job = {change.job: _step(change, labour, figures.chain.tensioned) for change in changes}
    return (
        *_begin(figures, jobs, labour),
        *(by_job[job] for job in (*_AT_WHEEL, *_BETWEEN) if job in jobs),
        *_wheel_in(jobs),
        *(by_job[job] for job in _AT_CHAIN if job in jobs),
        *_adjust(figures, jobs, labour),
        *_tests(figures, labour),
    )


def _step(change: Change, labour: Labour, tensioned: bool) -> WorkStep:
    do, field, cautions = JOBS[change.job]
    if change.job in {Job.NEW_CHAIN, Job.CUT_CHAIN} and not tensioned:
        cautions = CHAIN_TAUT
    minutes: float = getattr(labour, field)
    if change.job is Job.RINGS:
        minutes *= max(len(change.on), len(change.off))
        do = do if change.on else "Take off {to}; ring bolts of the length that is left"
    return WorkStep(do.format(to=change.to), minutes, cautions)


def _begin(figures: Figures, jobs: set[Job], labour: Labour) -> Iterator[WorkStep]:
    came_in = figures.baseline or figures.bench
    do = f"Look first: {'belt and pulleys' if came_in.belted else 'chain wear, hooked teeth, hanger'}, cables"
    yield WorkStep(do, labour.look, (*_wear(came_in), *_timing_worn(came_in)))
    chain = bool(jobs - set(_AT_WHEEL) - {Job.SHIFTER, Job.TIMING})
    wheel = bool(jobs & set(_AT_WHEEL))
    driver = "belt" if came_in.belted else "chain"
    off = [name for name, needed in ((driver, chain), ("rear wheel", wheel)) if needed]
    if off:
        shifted = figures.baseline is None or chain_of(figures.baseline).tensioned
        do = f"Smallest pair, then {listed(off)} off" if shifted else f"{listed(off)} off".capitalize()
        yield WorkStep(do, labour.wheel if wheel else 0.0, _joint(came_in, jobs) if chain else ())


def _timing_worn(came_in: Setup) -> tuple[str, ...]:
    """A timing chain that was measured and is due."""
    found = timing_wear(Figures(came_in))
    due = found is not None and found.status is not Status.OK
    return (f"timing chain {found.figure:.2f} %: {found.say}",) if found is not None and due else ()


def _joint(came_in: Setup, jobs: set[Job]) -> tuple[str, ...]:
    """That the joint must not be closed again, where it has been as often as its maker lets it be."""
    uses, most = came_in.chain.joint_uses, came_in.chain.joint_most_uses
    if uses is None or most is None or uses < most or Job.NEW_CHAIN in jobs:
        return ()
    return (f"the joint has been closed {count(uses, 'time')}, {most} as its maker states: a new one",)


def _wear(came_in: Setup) -> tuple[str, ...]:
    """What was measured of wear on the bike as it came in; how to measure it where nobody has."""
    if came_in.belted:
        return ("cracks, missing teeth and pulleys worn sharp: a new belt, as its maker states",)
    known = {verdict.part: f"{verdict.part} {verdict.fate}: {verdict.say}" for verdict in verdicts(came_in)}
    rule = change_at(came_in)
    wear = f"24 links measure 304.8 mm new; from {_length(rule):.1f} mm ({rule:g} %) plan a new chain"
    usual = {"chain": wear, "cassette": "new on worn can slip under load"}
    return tuple((usual | known).values())


def _length(pct: float) -> float:
    return NEW_MM * (1.0 + pct / 100.0)


def _wheel_in(jobs: set[Job]) -> Iterator[WorkStep]:
    if jobs & set(_AT_WHEEL):
        yield WorkStep("Rear wheel in", 0.0, ("straight in the dropouts, axle as tight as its maker states",))


def _adjust(figures: Figures, jobs: set[Job], labour: Labour) -> Iterator[WorkStep]:
    if figures.chain.tensioned:
        gap = "B-gap on the largest cog as the derailleur's maker states"
        yield WorkStep("Set limit screws, B-gap and indexing", labour.adjust, (gap, *_set_on(figures)))
    elif figures.bench.belted:
        yield WorkStep("Tension the belt with the axle, wheel straight", labour.adjust, (TENSION,))
    else:
        yield WorkStep("Set the chain's slack with the axle, wheel straight", labour.adjust)
    if len(figures.bench.crank.rings) > 1 and jobs & _FRONT:
        yield WorkStep("Set height, angle and stops of the front derailleur", labour.adjust)


def _set_on(figures: Figures) -> tuple[str, ...]:
    """Where to set the cable for the least error, as far as cable, derailleur and spacing are known."""
    clicks = rear_indexing(figures.bench).clicks
    if clicks is None:
        return ()
    off = f"{clicks.worst.off_mm:+.2f} mm"
    return (f"set the cable on cog {clicks.set_on}; cog {clicks.worst.teeth} is then off most, {off}",)


def _tests(figures: Figures, labour: Labour) -> Iterator[WorkStep]:
    """Brakes, stand, road: always, and always last."""
    yield WorkStep("Check both brakes", labour.brakes, ("pads on rim or disc, levers firm, wheel free",))
    grown = ("let the suspension all the way to where the stay is longest",)
    sprung = grown if figures.bench.frame.suspension_growth_mm else ()
    do = "Stand test in every gear" if len(figures.gears) > 1 else "Stand test"
    yield WorkStep(do, labour.stand_test, (_by_hand(figures), *sprung, *_tell(figures)))
    slip = "no slip standing on the pedals; in doubt it does not go out"
    yield WorkStep("Road test away from traffic; then every bolt again", labour.road_test, (slip,))


def _by_hand(figures: Figures) -> str:
    """What shows by hand on the stand that a chain is too short, or a belt out of line."""
    if figures.bench.belted:
        return "turn the cranks by hand both ways: the belt stays in the middle of both pulleys"
    if not figures.chain.tensioned:
        return "turn the cranks by hand: some play left where the chain is tightest, and it does not lift off"
    return f"{figures.chain.largest_label} first, by hand and slowly: if the cage is pulled straight, stop"


def _tell(figures: Figures) -> tuple[str, ...]:
    """What the rider is told of single gears; on one ring there is none to avoid."""
    line, hanging = figures.chainline, [gear.label for gear in figures.chain.hanging]
    if len(figures.bench.crank.rings) == 1:
        told = [wear_sentence(line)] if line.wearing else []
        return (*told, *([f"the chain hangs slack in {listed(hanging[:6])}"] if hanging else []))
    named = [*hanging, *(angle.label for angle in line.avoid if angle.label not in hanging)]
    return (f"tell the rider to avoid {listed(named[:6])}",) if named else ()
