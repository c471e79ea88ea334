"""Belt, fixed wheel and motor as lines, beside their checks. Nothing for a bike without them."""

from collections.abc import Iterator, Sequence
from typing import Final

from cogwright.core.chain.belt import BeltFigures, belt_of
from cogwright.core.common.units import percent
from cogwright.core.drive.assist import Reach
from cogwright.core.drive.pairs import StayPair, stay_pairs
from cogwright.core.fit.belt import TENSION
from cogwright.core.fit.motor import LAW
from cogwright.core.motor.grades import AssistedGear, assisted
from cogwright.core.parts.bin import BeltPart, Bin
from cogwright.core.parts.search import belts
from cogwright.core.setup.model import Setup
from cogwright.core.study import Study
from cogwright.present.lines import Column, Line, Look, Role, Span, clip, line, table, told, width

_HANG: Final = "  "
_NEAR: Final = 3
_MANY: Final = 12
_WIDE: Final = 64
_ROLES: Final = {Reach.LIKED: Role.OK, Reach.SPINS: Role.CAUTION, Reach.DRAGS: Role.DIM}


def belt_lines(study: Study, look: Look, stock: Bin | None = None) -> Iterator[Line]:
    """The belt: what the pulleys take, and where the axle stands with belts about as long.

    With a bin each of them says whether it is there, and so do all that leave the axle within its way.
    """
    belt = belt_of(study.bench)
    if belt is None:
        return
    yield line(Span(" Belt", Role.HEAD))
    for text in _belt_facts(belt):
        yield from told(text, look.width - 1, indent=_HANG)
    yield from (clip(line(" ", row), look.width) for row in _belts(belt, stock))
    yield from told(f"{TENSION.capitalize()}.", look.width - 1, Role.CAUTION, _HANG)
    yield ()


def _belt_facts(belt: BeltFigures) -> Iterator[str]:
    if belt.missing:
        yield f"Not known: {', '.join(belt.missing)}."
    if belt.taken is not None:
        pair, stay = "x".join(map(str, belt.pulleys)), belt.setup.frame.chainstay_mm
        pitch = belt.setup.belt.pitch_mm
        yield f"{pair} on a stay of {stay:g} mm takes {belt.taken:.2f} teeth of {pitch:g} mm."


def _belts(belt: BeltFigures, stock: Bin | None) -> list[Line]:
    """Belts of about that length: how far the axle moves with each, and where one comes from."""
    if belt.taken is None:
        return []
    middle = int(belt.taken)
    there = {} if stock is None else belts(stock, belt.setup.belt.pitch_mm)
    near = {*range(middle - _NEAR + 2, middle + _NEAR + 2), *(belt.right if len(belt.right) < _MANY else ())}
    rows: list[list[str | Span]] = []
    for teeth in sorted(near | {belt.setup.belt.teeth or middle}):
        move = belt.move_mm(teeth)
        if move is not None:
            right = Span("right" if teeth in belt.right else "", Role.OK)
            said = ["on the bike"] if teeth == belt.setup.belt.teeth else []
            said += [] if stock is None else [_whence(there.get(teeth))]
            rows.append([str(teeth), f"{move:+.1f}", right, Span(", ".join(said), Role.DIM)])
    heads = [Column("teeth"), Column("axle back, mm"), Column("", right=False), Column("", right=False)]
    return table(heads, rows)


def _whence(part: BeltPart | None) -> str:
    """Whether a belt lies in the bin."""
    if part is None:
        return "not in the bin"
    wait = "" if part.lead_days is None else f", {part.lead_days} days"
    return f"{part.count} in stock" if part.count else f"to order{wait}"


def fixed_lines(study: Study, look: Look) -> Iterator[Line]:
    """Pairs that are right on the stay as it is, for a bike that says whether it is fixed."""
    setup, chain = study.bench, study.chain
    if setup.rear.fixed is None or chain.tensioned or chain.stay_mm is None:
        return
    found = stay_pairs(*chain.largest, chain.stay_mm, bool(setup.chain.half_link))
    yield line(Span(" Pairs right on this stay", Role.HEAD))
    if not found:
        yield from told("No pair nearby is right with the axle where it is, new or worn.", look.width)
        found = () if setup.chain.half_link else stay_pairs(*chain.largest, chain.stay_mm, half_link=True)
        yield from told("With a half link in the chain these are:", look.width) if found else ()
    yield from pair_lines(found, look) if found else ()
    yield ()


def pair_lines(
    found: Sequence[StayPair], look: Look, wheel_m: float | None = None, wanted_m: float | None = None
) -> Iterator[Line]:
    """Pairs as a table, with what its columns mean."""
    yield from pair_table(found, look, wheel_m, wanted_m)
    yield from pair_legend(look)


def pair_table(
    found: Sequence[StayPair], look: Look, wheel_m: float | None = None, wanted_m: float | None = None
) -> list[Line]:
    """A head and a line a pair; with a wheel and a wanted development, how far each is off it."""
    heads = [Column("pair", False), Column("links"), Column("right", False)]
    heads += [Column("new mm"), Column("worn mm"), Column("patches"), Column("in common")]
    rows, goes = [_pair(pair) for pair in found], [6, 5, 4, 3]
    if wheel_m is not None and wanted_m is not None:
        heads[1:1], goes = [Column("m a turn"), Column("off %")], [8, 7, 6, 5, 1]
        for row, pair in zip(rows, found, strict=True):
            row[1:1] = _off(pair, wheel_m, wanted_m)
    return _fitting(heads, rows, goes, look)


def _fitting(
    heads: list[Column], rows: list[list[str | Span]], goes: Sequence[int], look: Look
) -> list[Line]:
    """A table without so many of the columns that go first as leaves it in its room."""
    drawn = [line(" ", row) for row in table(heads, rows)]
    if not goes or all(width(row) <= look.width for row in drawn):
        return [clip(row, look.width) for row in drawn]
    del heads[goes[0]]
    for row in rows:
        del row[goes[0]]
    return _fitting(heads, rows, goes[1:], look)


def stay_words(setup: Setup) -> str:
    """The stay that pairs are right on, and how far its axle goes back."""
    frame = setup.frame
    back = f" whose axle goes back {frame.axle_travel_mm:g} mm" if frame.axle_travel_mm else ""
    return f"a stay of {frame.chainstay_mm:g} mm{back}"


def pair_legend(look: Look) -> list[Line]:
    """What the columns mean."""
    legend = (
        "mm is how far the chain moves up and down midway, up to 20 is right (common practice); worn is 0.5 %"
        " longer; patches with the same foot in front and with either."
    )
    return told(legend, look.width, Role.DIM)


def _off(pair: StayPair, wheel_m: float, wanted_m: float) -> list[str]:
    """Development of a pair, and by how much it is over the wanted one."""
    made = pair.ring / pair.cog * wheel_m
    return [f"{made:.2f}", f"{percent(made / wanted_m):+.1f}"]


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
