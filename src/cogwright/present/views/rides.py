"""Recorded rides: the gears that were used, where they ran out, and the same ride on the bench."""

from collections.abc import Mapping, Sequence
from typing import Final

from cogwright.core.chain.left_out import UNREACHABLE
from cogwright.core.common.units import S_PER_MIN
from cogwright.core.common.words import count
from cogwright.core.gears.gears import Gear
from cogwright.core.riding.evidence.evidence import Evidence
from cogwright.core.riding.evidence.gear_found import ALIKE_PCT
from cogwright.core.riding.evidence.on_bench import OnBench
from cogwright.core.riding.evidence.use import CLASS_KMH, CLASS_RPM, Spell, Use
from cogwright.core.setup.model import Rider
from cogwright.present.bars import Bar, BarKind, draw_bars
from cogwright.present.clock import clock, timed
from cogwright.present.lines import Line, Look, Page, Role, Span, clip, line, told
from cogwright.present.plot import UseAxes, use_columns, use_plot

#: Stretches told of each kind, the longest ones.
_SHOWN: Final = 6
#: Cells of the figures beside the bars, and of the way, which stands from this width on.
_TIME, _WAY, _WIDE = 17, 10, 60
#: Rows of a plot, and the width under which there is none.
_PLOT, _NARROWEST = 6, 40
#: Speeds that are off by this share against the wheel are told to be.
_TOLD_OFF: Final = 0.003

_BEHIND: Final = "The rides are being gone through for this bench."
_BEFORE: Final = "What stands here was said of the one before."


def rides_page(of: Evidence, look: Look) -> Page:
    """The answer stays in sight, the rest scrolls."""
    parts = (_plots, _gears, _bench, _spread, _where, _notes)
    rows = [clip(row, look.width) for part in parts for row in part(of, look)]
    return Page(tuple(head_lines(of, look)), tuple(rows))


def no_rides_page(look: Look) -> Page:
    """What there would be to see."""
    said = (
        "No ride yet. G chooses recorded rides from the folder rides, or any other file: FIT, TCX, GPX, or "
        "CSV with time_s, speed_kmh and cadence_rpm.",
        "They say which gears of the baseline were used, where the rider ground or spun out, and what the "
        "gears on the bench would have been for the same ride. Nothing is stored.",
    )
    return Page((), tuple(row for each in said for row in (*told(each, look.width), ())))


def behind_page(of: Evidence | None, look: Look) -> Page:
    """What was said of another bench, if anything, while these rides are gone through for this one."""
    if of is None:
        return Page(tuple(told(_BEHIND, look.width, Role.CAUTION)), ())
    page, said = rides_page(of, look), told(f"{_BEHIND} {_BEFORE}", look.width, Role.CAUTION)
    return Page((*said, *page.head), page.rows)


def rides_lines(of: Evidence, look: Look) -> list[Line]:
    """All of it in one piece."""
    page = rides_page(of, look)
    return [*page.head, *page.rows]


def head_lines(of: Evidence, look: Look) -> list[Line]:
    """What was ridden, and the answer in a sentence or two."""
    use, rider = of.use, _rider(of)
    name = use.rides[0] if len(use.rides) == 1 else count(len(use.rides), "ride")
    ridden = f"{name}: {use.metres / 1000:.1f} km in {timed(use.seconds)} on {of.setup.name}."
    out = told(ridden, look.width, Role.TITLE)
    if not use.has_cadence:
        said = "No cadence was recorded, so the gears cannot be told: here are the speeds alone."
        return [*out, *told(said, look.width, Role.CAUTION)]
    out += told(_answer(use, rider), look.width, _role(use.below_s + use.above_s))
    if of.bench is not None:
        said, outside = _bench_answer(of.bench, use, rider), of.bench.below_s + of.bench.above_s
        out += told(said, look.width, _role(outside))
    return out


def _role(outside_s: float) -> Role:
    return Role.CAUTION if outside_s >= S_PER_MIN else Role.OK


def _rider(of: Evidence) -> Rider:
    return (of.bench.setup if of.bench else of.setup).rider


def _answer(use: Use, rider: Rider) -> str:
    low, _, high = rider.cadence_rpm
    never = ", ".join(gear.label for gear in use.never)
    unused = f"never used: {never}" if never else "every gear was used"
    return (
        f"Pedalled {timed(use.pedalled_s)}: {timed(use.below_s)} under {low:g} rpm, {timed(use.above_s)} "
        f"over {high:g} rpm; {use.shifts_a_km:.1f} shifts a km; {unused}."
    )


def _bench_answer(bench: OnBench, use: Use, rider: Rider) -> str:
    low, _, high = rider.cadence_rpm
    more = bench.below_s + bench.above_s - use.below_s - use.above_s
    change = f"{timed(abs(more))} {'more' if more > 0 else 'less'} than ridden"
    none = f"; no gear serves for {timed(bench.without_s)}" if bench.without_s >= 1.0 else ""
    return (
        f"On the bench ({bench.setup.name}): {timed(bench.below_s)} under {low:g} rpm, "
        f"{timed(bench.above_s)} over {high:g} rpm, {change if abs(more) >= 1.0 else 'as ridden'}{none}."
    )


def _plots(of: Evidence, look: Look) -> list[Line]:
    """The use of each gear at its development, as ridden and on the bench, on the same axes."""
    sides: list[tuple[str, Role, Mapping[Gear, float]]] = [("ridden", Role.BASE, of.use.times)]
    if of.bench is not None:
        sides.append(("on the bench", Role.BENCH, of.bench.times))
    gears = [gear.development_m for _, _, times in sides for gear in times]
    if not of.use.has_cadence or look.width < _NARROWEST:
        return []
    axes = UseAxes(min(gears), max(gears), 1.0)
    spent = [tuple((gear.development_m, s) for gear, s in times.items()) for _, _, times in sides]
    tops = [max(use_columns(each, axes, look.width).values()) for each in spent]
    axes = axes._replace(top_s=max(*tops, 1.0))
    out: list[Line] = []
    for (name, role, _), each in zip(sides, spent, strict=True):
        out.append((Span(f" time in each gear {name}, by its development in m", Role.HEAD),))
        out += use_plot(each, axes, (look.width, _PLOT), look.glyphs, role)
    return [*out, ()]


def _gears(of: Evidence, look: Look) -> list[Line]:
    if not of.use.has_cadence:
        return [*_classes("km/h", CLASS_KMH, look, of.use.speeds), ()]
    return [*_use_lines("gear ridden", of.use.times, look, "base", of.use.ways), ()]


def _bench(of: Evidence, look: Look) -> list[Line]:
    if of.bench is None or not of.use.has_cadence:
        return []
    return [*_use_lines("on the bench", of.bench.times, look, "bench"), ()]


def _use_lines(
    head: str,
    times: Mapping[Gear, float],
    look: Look,
    kind: BarKind,
    ways: Mapping[Gear, float] | None = None,
) -> list[Line]:
    """A line a gear, easiest first: a bar and the time in it, its share, and its way if that is known."""
    way = _WAY if ways is not None and look.width >= _WIDE else 0
    first = max(len(head), *(len(gear.label) for gear in times)) + 2
    room = max(look.width - first - _TIME - way - 1, 0)
    bars = _bars(list(times.values()), room, look, kind)
    total = sum(times.values()) or 1.0
    tops = f"{'h:min:s':>9}{'share':>8}{'way' if way else '':>{way}}"
    out: list[Line] = [(Span(f" {head:<{first}}{'':<{room}}{tops}", Role.HEAD),)]
    for (gear, spent), bar in zip(times.items(), bars, strict=True):
        figures = f"{clock(spent):>9}{100 * spent / total:>6.1f} %"
        figures += f"{(ways or {}).get(gear, 0.0) / 1000:>{way - 3}.1f} km" if way else ""
        shown = Role.TEXT if spent else Role.DIM
        out.append(
            line(Span(f" {gear.label:<{first}}", shown), Span(bar, _ROLES[kind]), Span(figures, shown))
        )
    return out


_ROLES: Final = {"bench": Role.BENCH, "base": Role.BASE, "lost": Role.LOST}


def _bars(
    values: Sequence[float], room: int, look: Look, kind: BarKind, scale: float | None = None
) -> list[str]:
    """A bar each on one scale, up to the greatest if none is given; none for nothing."""
    top = max(values, default=0.0) if scale is None else scale
    if room < 2 or top <= 0.0:
        return [" " * room] * len(values)
    drawn = iter(draw_bars([Bar(value, kind) for value in values if value > 0.0], top, room, look.glyphs))
    return [next(drawn) if value > 0.0 else " " * room for value in values]


def _spread(of: Evidence, look: Look) -> list[Line]:
    """How long at each cadence, as ridden and on the bench."""
    if not of.use.has_cadence:
        return []
    bench = None if of.bench is None else of.bench.cadences
    return [*_classes("rpm", CLASS_RPM, look, of.use.cadences, bench), ()]


def _classes(
    unit: str, width: int, look: Look, ridden: Mapping[int, float], bench: Mapping[int, float] | None = None
) -> list[Line]:
    """A line a class of cadence or speed: the time as ridden, beside that on the bench, on one scale."""
    sides: list[tuple[str, BarKind, Mapping[int, float]]] = [("ridden", "base", ridden)]
    sides += [("on the bench", "bench", bench)] if bench is not None else []
    known = [at for _, _, spent in sides for at in spent]
    classes = range(min(known, default=0), max(known, default=-1) + 1, width)
    top = max((seconds for _, _, spent in sides for seconds in spent.values()), default=0.0)
    room = max((look.width - 10) // len(sides) - 11, 0)
    heads = "".join(f"{f'{name}, h:min:s':<{room + 11}}"[: room + 11] for name, _, _ in sides)
    out: list[Line] = [(Span(f" {unit:<9}{heads}", Role.HEAD),)]
    columns = [
        _cells(kind, [spent.get(at, 0.0) for at in classes], top, room, look) for _, kind, spent in sides
    ]
    for at, *cells in zip(classes, *columns, strict=True):
        out.append(line(f" {f'{at}-{at + width - 1}':<9}", *cells))
    return out


def _cells(kind: BarKind, spent: Sequence[float], top: float, room: int, look: Look) -> list[Line]:
    """Bar and time of each class on one side."""
    bars = _bars(spent, room, look, kind, top)
    return [
        line(Span(bar, _ROLES[kind]), Span(f"{clock(seconds):>9}  ", Role.TEXT if seconds else Role.DIM))
        for bar, seconds in zip(bars, spent, strict=True)
    ]


def _where(of: Evidence, look: Look) -> list[Line]:
    """Where it was ground and spun out: the longest stretches, in the order of the rides."""
    rows: list[Line] = []
    for what, spells in (("grinding", of.use.grinding), ("spinning", of.use.spinning)):
        longest = sorted(spells, key=lambda spell: -spell.seconds)[:_SHOWN]
        rows += [_spell(what, spell, len(of.use.rides) > 1, look) for spell in spells if spell in longest]
        if len(spells) > _SHOWN:
            rows.append((Span(f"   and {len(spells) - _SHOWN} shorter ones", Role.DIM),))
    return [*rows, ()] if rows else []


def _spell(what: str, spell: Spell, many: bool, look: Look) -> Line:
    where = f"km {spell.start_m / 1000:.1f} to {spell.end_m / 1000:.1f}"
    grade = f"{100 * spell.grade:+5.1f} %" if spell.grade is not None else " " * 7
    figures = f"{timed(spell.seconds):>10}  {spell.rpm:4.0f} rpm {grade} {spell.gear.label}"
    ride = f"  {spell.ride}" if many and look.width >= _WIDE else ""
    return line(Span(f" {what:<9} {where:<17}{figures}", Role.CAUTION), Span(ride, Role.DIM))


def _notes(of: Evidence, look: Look) -> list[Line]:
    """How the figures came about, and how good they are."""
    use, said = of.use, list[str]()
    if use.has_cadence:
        said.append("Gears are found from speed and cadence; a shift is told to about a second.")
        said += [*_unsure(of), *_wheel(use), *_left_out(of.bench)]
    said.append(f"Without pedalling {timed(use.coasted_s)}.")
    if use.other_s >= 1.0:
        said.append(f"For {timed(use.other_s)} of pedalling no gear of this bike fits.")
    if use.unknown_s >= 1.0:
        said.append(f"For {timed(use.unknown_s)} no cadence was recorded.")
    return [row for one in said for row in told(one, look.width, Role.DIM)]


def _wheel(use: Use) -> list[str]:
    if abs(use.wheel) < _TOLD_OFF:
        return []
    off = f"{100 * abs(use.wheel):.1f} % {'over' if use.wheel > 0 else 'under'}"
    return [f"The recorded speeds are {off} those of this wheel, which is allowed for."]


def _left_out(bench: OnBench | None) -> list[str]:
    gone = [gear.label for gear, why in bench.left_out.items() if why == UNREACHABLE] if bench else []
    return [f"The bench rides without {', '.join(gone)}: {UNREACHABLE}."] if gone else []


def _unsure(of: Evidence) -> list[str]:
    if not of.alike:
        return []
    pairs = ", ".join(f"{a.label} and {b.label}" for a, b in of.alike[:4])
    more = f" and {len(of.alike) - 4} pairs more" if len(of.alike) > 4 else ""
    return [f"Closer than {ALIKE_PCT:g} % and not surely told from one another: {pairs}{more}."]
