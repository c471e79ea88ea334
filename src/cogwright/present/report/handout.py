"""The hand-out: one page in everyday words for the rider who takes the bike home."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

from cogwright.core.common.words import count, few, listed
from cogwright.core.comparing.columns import side_by_side
from cogwright.core.comparing.story import StoryStep, story_of
from cogwright.core.parts.bin import Bin
from cogwright.core.riding.course import Course
from cogwright.core.riding.grades import Ride, ride_of, short_words
from cogwright.core.shifting.levers import levers_of
from cogwright.core.shifting.shift_order import ShiftOrder, shift_order_of
from cogwright.core.study import Study
from cogwright.core.worksheet.build import order_sheet
from cogwright.core.worksheet.new_chain import only_with_new_chain
from cogwright.core.worksheet.sheet import Item, OrderSheet
from cogwright.present.clock import timed
from cogwright.present.extra_facts import to_mind
from cogwright.present.views.quote import ESTIMATE, Amount, quote_amounts, unknown_words
from cogwright.present.views.shift_words import new_chain_words, pattern_words, shift_words
from cogwright.present.views.shifting import reasons
from cogwright.present.views.story import felt_effects

DEFER: Final = (
    "The limits of the parts' makers come first. If anything slips, rattles or will not shift, stop riding"
    " and let a qualified mechanic look at it."
)
_FELT: Final = 0.05


@dataclass(frozen=True, slots=True)
class Passage:
    """A heading with sentences under it; `warn` for what can hurt, `amounts` where money is listed."""

    title: str
    said: tuple[str, ...]
    warn: tuple[str, ...] = ()
    amounts: tuple[Amount, ...] = ()


@dataclass(frozen=True, slots=True)
class Handout:
    """The page: its title, what stands under it, its parts in order, and both bikes for the picture."""

    title: str
    under: tuple[str, ...]
    parts: tuple[Passage, ...]
    study: Study
    used: tuple[str, ...]
    end: str = DEFER


def handout_of(
    study: Study, course: Course | None = None, stock: Bin | None = None, used: tuple[str, ...] = ()
) -> Handout:
    """All that the page says, of the bike as it goes home: with all the parts of the order on.

    Raises ValueError without a baseline: nothing has changed then.
    """
    sheet = order_sheet(study, stock)
    if sheet is None or study.baseline is None:
        raise ValueError("a hand-out tells of a change, and there is no baseline")
    done = replace(study, bench=sheet.after)
    gains, losses = _sorted(done, course)
    parts = (
        Passage("What changes on your bike", tuple(_changes(sheet))),
        Passage("What gets easier", tuple(gains) or ("Nothing gets easier with this change.",)),
        Passage("What you give up", tuple(losses) or ("Nothing: no gear that you had is lost.",)),
        Passage("How to shift it", (*_shifting(done), *new_chain_words(only_with_new_chain(study)))),
        _money(sheet),
        Passage("In short, step by step", tuple(_short_story(story_of(study.baseline, study.bench, stock)))),
        Passage("Please mind", tuple(_mind(sheet, done)), warn=_dangers(sheet)),
    )
    under = sheet.job.lines if used else (*sheet.job.lines, f"Before: {study.baseline.name}")
    return Handout(study.bench.name, under, parts, study, used)


def _changes(sheet: OrderSheet) -> Iterator[str]:
    if not sheet.changes:
        yield "No part is changed."
    if sheet.on:
        yield f"New: {_named(sheet.on)}."
    if sheet.off:
        yield f"Comes off: {_named(sheet.off)}."


def _named(items: tuple[Item, ...]) -> str:
    return listed(dict.fromkeys(item.what.split(",", maxsplit=1)[0] for item in items))


def _sorted(study: Study, course: Course | None) -> tuple[list[str], list[str]]:
    """What is said of hills, speed, steps and the course, by whether it gets easier."""
    gains, losses = list[str](), list[str]()
    for better, text in (
        *_ends(ride_of(study)),
        *_low_speed(study),
        *_steps(study),
        *_hands(study),
        *_on_course(study, course),
    ):
        if better is not None:
            (gains if better else losses).append(text)
    return gains, losses


def _ends(ride: Ride) -> Iterator[tuple[bool | None, str]]:
    """The steepest hill, and the speed at which the legs cannot follow any more."""
    was, now = ride.base_steepest_pct, ride.steepest_pct
    briefly, before = ride.steepest_short_pct, ride.base_steepest_short_pct
    if was is not None and before is not None and f"{was:.1f}" != f"{now:.1f}":
        load = f" with {ride.rider.load_kg:g} kg of luggage" if ride.rider.load_kg else ""
        yield (
            now > was,
            f"Hills: sitting, all day, you climb up to {now:.1f} % (before: {was:.1f} %); standing,"
            f" {short_words(ride.rider)}, up to {briefly:.1f} % (before: {before:.1f} %){load}.",
        )
    top, had = ride.spin_out_kmh, ride.base_spin_out_kmh
    if had is not None and f"{had:.1f}" != f"{top:.1f}":
        yield (
            top > had,
            f"Fast roads: your legs keep up to {top:.1f} km/h (before: {had:.1f} km/h); beyond it you roll.",
        )


def _low_speed(study: Study) -> Iterator[tuple[bool | None, str]]:
    """The easiest gear itself, in km/h at the cadence that the rider likes."""
    against = study.comparison
    if against is None or abs(against.low_change_pct) < _FELT:
        return
    change = against.low_change_pct
    rpm = study.bench.rider.cadence_rpm[1]
    now = study.rows[0].speed_kmh
    was = now / (1.0 + change / 100.0)
    word = "easier" if change < 0 else "harder"
    chain = " (only with the longer chain)" if study.gears[0] in ride_of(study).beyond_chain else ""
    yield (
        change < 0,
        f"Your easiest gear is {abs(change):.1f} % {word}{chain}: at {rpm:g} turns of the pedals a minute "
        f"it goes {now:.1f} km/h (before: {was:.1f} km/h).",
    )


def _steps(study: Study) -> Iterator[tuple[bool | None, str]]:
    """How even the clicks are."""
    of = side_by_side(study.baseline, [study.bench])
    if of.baseline is None:
        return
    was, now = of.baseline.study.summary, of.columns[0].study.summary
    if abs(now.worst_rear_step_pct - was.worst_rear_step_pct) >= _FELT:
        word = "smaller" if now.worst_rear_step_pct < was.worst_rear_step_pct else "larger"
        yield (
            now.worst_rear_step_pct < was.worst_rear_step_pct,
            f"The largest step of one click is {word}: {now.worst_rear_step_pct:.1f} % "
            f"(before: {was.worst_rear_step_pct:.1f} %).",
        )
    if now.distinct != was.distinct:
        yield (
            now.distinct > was.distinct,
            f"You have {count(now.distinct, 'different gear')} (before: {was.distinct}).",
        )


def _hands(study: Study) -> Iterator[tuple[bool | None, str]]:
    """How many shifters the hands deal with."""
    assert study.baseline is not None
    had, has = (len(setup.crank.rings) > 1 for setup in (study.baseline, study.bench))
    if had and not has:
        yield True, "One shifter in place of two: nothing is shifted in front any more."
    elif has and not had:
        yield False, "Two shifters in place of one: the front is shifted too."


def _on_course(study: Study, course: Course | None) -> Iterator[tuple[bool | None, str]]:
    if course is None:
        return
    of = side_by_side(study.baseline, [study.bench], course)
    was, now = of.baseline.course if of.baseline else None, of.columns[0].course
    if was is None or now is None:
        return
    grinding = f"{timed(now.grinding_s)} of it in too hard a gear (before: {timed(was.grinding_s)})"
    before = f"(before: {timed(was.total_s)})" if timed(was.total_s) != timed(now.total_s) else "as before"
    better = now.total_s + now.grinding_s <= was.total_s + was.grinding_s
    yield better, f"{course.name}: about {timed(now.total_s)} {before}, {grinding}."


def _shifting(study: Study) -> Iterator[str]:
    """How many gears in which order, for hands that know nothing of it."""
    of = shift_order_of(study)
    gears = len(of.moves)
    if gears == 1:
        yield "There is one gear and nothing to shift."
        return
    rings = len(study.bench.crank.rings)
    if rings == 1:
        yield f"One shifter does it all: {count(gears, 'gear')}, click by click from easiest to hardest."
    else:
        both = f"; {count(of.double_shifts, 'place')} where both hands shift" if of.double_shifts else ""
        yield f"{count(gears, 'gear')} in order, from easiest to hardest{both}."
        yield from _changes_of_range(of)
    for why, left in reasons(of.left_out).items():
        yield f"Leave out {few([gear.label for gear in left], 8)}: {why}."
    yield "Shift before the hill, one click at a time, and ease off the pedals while it shifts."


def _changes_of_range(of: ShiftOrder) -> Iterator[str]:
    levers = levers_of(of.setup)
    yield from pattern_words(of)
    for before, move in of.crossings[:3]:
        up, down = shift_words(move), shift_words(levers.move(move.gear, before))
        yield f"Getting faster, in {before.label}: {up}. Getting slower again: {down}."


def _money(sheet: OrderSheet) -> Passage:
    if not sheet.changes:
        return Passage("What it costs", ("Nothing.",))
    unknown = unknown_words(sheet)
    said = (*([unknown] if unknown else []), *([] if sheet.labour_cost is None else [ESTIMATE]))
    return Passage("What it costs", said, amounts=tuple(quote_amounts(sheet)))


def _short_story(steps: tuple[StoryStep, ...]) -> Iterator[str]:
    """Only the steps that a rider feels: what becomes of the chain meanwhile is the shop's business."""
    felt = [(step.say, list(felt_effects(step))) for step in steps]
    yield from (f"{say[0].upper()}{say[1:]}: {', '.join(told)}." for say, told in felt if told)
    if not any(told for _, told in felt):
        yield "No gear changes."


def _dangers(sheet: OrderSheet) -> tuple[str, ...]:
    return tuple(text[0].upper() + text[1:].rstrip(".") + "." for text in sheet.alarms)


def _mind(sheet: OrderSheet, study: Study) -> Iterator[str]:
    """Cautions of the bike, then those for every ride after such work."""
    told = to_mind(study)
    even = ", even with the new parts" if sheet.on else ""
    yield from (f"Does not fit{even}: {text}." for text in sheet.problems)
    yield from (f"{text[0].upper()}{text[1:]}." for text in told if text not in sheet.problems)
    yield "Before the first ride: every gear on the stand, both brakes, a short ride away from traffic."
    yield "After the first 100 km: let the shop look at chain, bolts and shifting again."
    yield "Hills, speeds and times are estimates for one rider; wind, load and a bad day change them."
