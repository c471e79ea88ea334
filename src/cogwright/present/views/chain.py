"""The chain as lines: its length, then slack and angle in every pair."""

from collections.abc import Iterator, Mapping
from typing import Final

from cogwright.core.chain.line import Angle, Chainline, line_before
from cogwright.core.chain.slack import ChainState, GearChain
from cogwright.core.fit.check import COMMON
from cogwright.core.study import Study
from cogwright.present.lines import Column, Line, Look, Role, Span, clip, line, table, told

_PAIR: Final = 26
_MARKS: Final = {
    ChainState.FITS: " ",
    ChainState.UNKNOWN: " ",
    ChainState.TIGHT: "!",
    ChainState.SHORT: "!",
    ChainState.SLACK: "~",
}
_HANG: Final = "  "


def chain_lines(study: Study, look: Look) -> Iterator[Line]:
    """The chain: its length by geometry and by the handbook, then every pair's slack and angle."""
    yield line(Span(" Chain", Role.HEAD))
    for text in _chain_facts(study):
        yield from told(text, look.width - 1, indent=_HANG)
    if study.chain.per_gear:
        yield ()
        yield from _pairs(study, look)


def _chain_facts(study: Study) -> Iterator[str]:
    chain = study.chain
    if chain.clash:
        yield chain.clash
        return
    if chain.missing:
        yield f"Not known: {', '.join(chain.missing)}."
    if chain.needed_pitches is None or chain.textbook is None:
        return
    grown = study.bench.frame.suspension_growth_mm
    stay = f"stay of {chain.stay_mm:g} mm" + (f" ({grown:g} mm of it suspension)" if grown else "")
    rule = f"{f'two to spare ({COMMON}), ' if chain.tensioned else ''}to an even number"
    yield (
        f"{chain.largest_label} on a {stay} takes {chain.needed_pitches:.2f} links"
        f" (approximation {chain.textbook:.2f}). Cut to {chain.fit_pitches}: {rule}."
    )
    if chain.installed is not None:
        yield f"On the bike: {chain.installed} links."
    if chain.tensioned:
        yield "Before cutting, try it by hand round the largest pair; the derailleur maker's own rule wins."
    yield from _axle_facts(study)


def _axle_facts(study: Study) -> Iterator[str]:
    axle = study.axle
    if axle is None:
        return
    where = "back" if axle.move_mm >= 0 else "forward"
    move = f"{where} {abs(axle.move_mm):.1f} mm from where it was measured"
    room = "" if axle.travel_mm is None else f"; it can go back {axle.travel_mm:g} mm"
    yield f"With {axle.pitches} links the axle moves {move}{room}."
    if study.bench.rear.fixed is not None:
        return
    if not axle.nearby:
        yield "No pair nearby is right with the axle where it is."
        return
    pairs = "; ".join(f"{p.ring}x{p.cog} with {p.pitches}" for p in axle.nearby)
    yield f"Right with the axle where it is (up to 20 mm of play, common practice): {pairs}."


def _pairs(study: Study, look: Look) -> Iterator[Line]:
    """A row a cog, three columns a ring; as many rings side by side as there is room for."""
    rings = study.bench.crank.rings
    across = max((look.width - 6) // _PAIR, 1)
    for start in range(0, len(rings), across):
        yield from _block(study, rings[start : start + across], look)
    yield from told(_legend(study), look.width - 1, Role.DIM, _HANG)
    if study.chainline.missing:
        yield from told(
            f"No angles: needs {', '.join(study.chainline.missing)}.", look.width - 1, Role.UNKNOWN, _HANG
        )
    if study.chainline.avoid:
        named = ", ".join(f"{a.label} ({a.degrees:.1f})" for a in study.chainline.avoid)
        yield from told(
            f"Gears to avoid, by chain angle in degrees: {named}.", look.width - 1, Role.CAUTION, _HANG
        )


def _block(study: Study, rings: tuple[int, ...], look: Look) -> Iterator[Line]:
    head = "".join(f"{f'{ring}: links':>14} slack angle" for ring in rings)
    yield clip(line(Span(f" cog {head}", Role.HEAD)), look.width)
    chains = {(g.ring, g.cog): g for g in study.chain.per_gear}
    angles = {(a.ring, a.cog): a for a in study.chainline.angles}
    for cog in study.bench.rear.cogs[::-1]:
        spans = [span for ring in rings for span in _pair(study, chains[ring, cog], angles.get((ring, cog)))]
        yield clip(line(f"{cog:>4} ", *spans), look.width)


def _pair(study: Study, gear: GearChain, angle: Angle | None) -> list[Span]:
    slack = "-" if gear.slack is None else f"{gear.slack:.1f}"
    far = angle is not None and angle.degrees > study.chainline.limit_deg
    tilt = "-" if angle is None else f"{angle.degrees:.1f}"
    loud = gear.state in {ChainState.SHORT, ChainState.TIGHT}
    state = Role.PROBLEM if loud else Role.CAUTION if gear.state is ChainState.SLACK else Role.TEXT
    return [
        Span(f"{gear.pitches:>14.1f}"),
        Span(f"{slack:>5}{_MARKS[gear.state]}", state),
        Span(f"{tilt:>5}{'x' if far else ' '}", Role.CAUTION if far else Role.TEXT),
    ]


def _legend(study: Study) -> str:
    states = {gear.state for gear in study.chain.per_gear}
    said = ["slack in links", "angle in degrees"]
    if states & {ChainState.SHORT, ChainState.TIGHT}:
        said.append("! under two links to spare, or cannot be reached: chain too short")
    if ChainState.SLACK in states:
        said.append("~ hangs slack (estimate)")
    if study.chainline.avoid:
        said.append("x to avoid")
    return "; ".join(said) + "."


def line_lines(study: Study, look: Look) -> Iterator[Line]:
    """Where rings and cogs stand sideways, and the angles before and after; nothing where none moved."""
    now = study.chainline
    before = line_before(now, study.baseline)
    if before is None or not now.angles:
        return
    yield line(Span(" Chain line", Role.HEAD))
    for text in _stands(now, before):
        yield from told(text, look.width - 1, indent=_HANG)
    was = {(a.ring, a.cog): a.degrees for a in before.angles}
    rings = study.bench.crank.rings
    heads = [Column("cog"), *(Column(f"{ring}: before now") for ring in rings)]
    rows: list[list[str | Span]] = [
        [str(cog), *(_angles(now, was, ring, cog) for ring in rings)] for cog in study.bench.rear.cogs[::-1]
    ]
    yield from (clip(line(" ", row), look.width) for row in table(heads, rows))
    yield from told("Angles in degrees.", look.width, Role.DIM)
    yield ()


def _stands(now: Chainline, before: Chainline) -> Iterator[str]:
    for name, here, there in (
        ("Rings", now.front_mm, before.front_mm),
        ("Cogs", now.rear_mm, before.rear_mm),
    ):
        if here is not None and there is not None and here != there:
            yield f"{name} {here:.1f} mm from the middle of the bike, before {there:.1f} mm."
    if now.moved:
        yield f"Outwards: {', '.join(f'{name} {mm:+g} mm' for name, mm in now.moved)}."


def _angles(now: Chainline, was: Mapping[tuple[int, int], float], ring: int, cog: int) -> Span:
    angle = next(a for a in now.angles if (a.ring, a.cog) == (ring, cog))
    before = was.get((ring, cog))
    role = Role.CAUTION if angle.degrees > now.limit_deg else Role.TEXT
    return Span(f"{'-' if before is None else f'{before:.1f}':>6} {angle.degrees:>4.1f}", role)
