"""Belt, fixed wheel and motor as lines, beside their checks. Nothing for a bike without them."""

from collections.abc import Iterator
from typing import Final

from cogwright.core.chain.belt import BeltFigures, belt_of
from cogwright.core.drive.assist import Reach
from cogwright.core.drive.pairs import StayPair, stay_pairs
from cogwright.core.fit.belt import TENSION
from cogwright.core.fit.motor import LAW
from cogwright.core.motor.grades import AssistedGear, assisted
from cogwright.core.study import Study
from cogwright.present.lines import Column, Line, Look, Role, Span, clip, line, table, told

_HANG: Final = "  "
_NEAR: Final = 3
_WIDE: Final = 64
_ROLES: Final = {Reach.LIKED: Role.OK, Reach.SPINS: Role.CAUTION, Reach.DRAGS: Role.DIM}


def belt_lines(study: Study, look: Look) -> Iterator[Line]:
    """The belt: what the pulleys take, and where the axle stands with belts about as long."""
    belt = belt_of(study.bench)
    if belt is None:
        return
    yield line(Span(" Belt", Role.HEAD))
    for text in _belt_facts(belt):
        yield from told(text, look.width - 1, indent=_HANG)
    yield from (clip(line(" ", row), look.width) for row in _belts(belt))
    yield from told(f"{TENSION.capitalize()}.", look.width - 1, Role.CAUTION, _HANG)
    yield ()


def _belt_facts(belt: BeltFigures) -> Iterator[str]:
    if belt.missing:
        yield f"Not known: {', '.join(belt.missing)}."
    if belt.taken is not None:
        pair, stay = "x".join(map(str, belt.pulleys)), belt.setup.frame.chainstay_mm
        pitch = belt.setup.belt.pitch_mm
        yield f"{pair} on a stay of {stay:g} mm takes {belt.taken:.2f} teeth of {pitch:g} mm."


def _belts(belt: BeltFigures) -> list[Line]:
    """Belts of about that length: how far the axle moves with each."""
    if belt.taken is None:
        return []
    middle = int(belt.taken)
    rows: list[list[str | Span]] = []
    for teeth in range(middle - _NEAR + 2, middle + _NEAR + 2):
        move = belt.move_mm(teeth)
        if move is not None:
            here = "on the bike" if teeth == belt.setup.belt.teeth else ""
            rows.append([str(teeth), f"{move:+.1f}", Span(here, Role.DIM)])
    return table([Column("teeth"), Column("axle back, mm"), Column("", right=False)], rows)


def fixed_lines(study: Study, look: Look) -> Iterator[Line]:
    """Pairs that are right on the stay as it is, for a bike that says whether it is fixed."""
    setup, chain = study.bench, study.chain
    if setup.rear.fixed is None or chain.tensioned or chain.stay_mm is None:
        return
    found = stay_pairs(*chain.largest, chain.stay_mm, bool(setup.chain.half_link))
    yield line(Span(" Pairs right on this stay", Role.HEAD))
    if not found:
        yield from told("No pair nearby is right with the axle where it is, new or worn.", look.width)
        yield ()
        return
    heads = [Column("pair", False), Column("links"), Column("right", False)]
    more = [Column("new mm"), Column("worn mm"), Column("patches"), Column("in common")]
    kept = 3 if look.width < _WIDE else 7
    rows = [_pair(pair)[:kept] for pair in found]
    yield from (clip(line(" ", row), look.width) for row in table([*heads, *more][:kept], rows))
    legend = (
        "mm is how far the chain moves up and down midway, up to 20 is right (common practice); worn is 0.5 %"
        " longer; patches with the same foot in front and with either."
    )
    yield from told(legend, look.width, Role.DIM)
    yield ()


def _pair(pair: StayPair) -> list[str | Span]:
    new = "too tight" if pair.new_mm is None else f"{pair.new_mm:.0f}"
    patches = f"{pair.patches.one_foot}, {pair.patches.either_foot}"
    right = Span(pair.mark, Role.OK if pair.mark.startswith("new") else Role.CAUTION)
    name = f"{pair.ring}x{pair.cog}"
    return [name, str(pair.links), right, new, f"{pair.worn_mm:.0f}", patches, str(pair.factor)]


def motor_lines(study: Study, look: Look) -> Iterator[Line]:
    """Every gear with a motor: cadence at the cut-off, and the grade held without and with help."""
    found = assisted(study)
    if not found:
        return
    effort = f"{study.bench.rider.power_w:g} W at {study.bench.rider.cadence_rpm[0]:g} rpm"
    yield line(Span(" Motor", Role.HEAD), Span(f"  grades held with {effort}, estimates", Role.DIM))
    cutoff = f"{study.bench.motor.cutoff_kmh:g} km/h"
    heads = [Column("gear", False), Column("helped %"), Column("alone %"), Column("motor W")]
    more = [Column(f"rpm at {cutoff}"), Column("", False)]
    kept = 4 if look.width < _WIDE else 6
    drawn = table([*heads, *more][:kept], [_gear(one)[:kept] for one in found])
    yield from (clip(line(" ", row), look.width) for row in drawn)
    yield from told(LAW, look.width, Role.CAUTION)
    yield ()


def _gear(one: AssistedGear) -> list[str | Span]:
    reach = one.reach
    mark = Span(reach.reach.value, _ROLES[reach.reach])
    grades = [f"{one.helped_pct:.1f}", f"{one.alone_pct:.1f}", f"{one.motor_w:.0f}"]
    return [reach.gear.label, *grades, f"{reach.cutoff_rpm:.0f}", mark]
