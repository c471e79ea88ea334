"""The Fit view: will it go together, how long a chain, which gears to avoid."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from cogwright.core.common.safe_text import cells
from cogwright.core.common.words import count
from cogwright.core.fit.check import Check, Status
from cogwright.core.fit.indexing import UNIT
from cogwright.core.fit.rear import SPLIT
from cogwright.core.gears.rollout import Scrutiny
from cogwright.core.parts.bin import Bin
from cogwright.core.parts.wear_prices import prices_for
from cogwright.core.study import Study
from cogwright.core.wear.costs import costs_of
from cogwright.core.worksheet.build import order_sheet
from cogwright.present.lines import (
    Glyphs,
    Line,
    Look,
    Page,
    Role,
    Span,
    clip,
    line,
    spread,
    told,
    width,
    wrap,
)
from cogwright.present.panels.head import ORDER
from cogwright.present.verdicts import fit_verdict, verdict_line
from cogwright.present.views.chain import chain_lines, line_lines
from cogwright.present.views.drives import belt_lines, fixed_lines, motor_lines
from cogwright.present.views.indexing import indexing_lines
from cogwright.present.views.wear import costs_lines, wear_lines

ROLES: Final = {
    Status.OK: Role.OK,
    Status.CAUTION: Role.CAUTION,
    Status.PROBLEM: Role.PROBLEM,
    Status.UNKNOWN: Role.UNKNOWN,
}
#: Cells of a status with its sign, of a name, of the figures, and of a bar.
_MARK: Final = 10
_NAME: Final = 18
_FIGURES: Final = 28
_BAR: Final = 22
_WIDE: Final = 110
_NARROW: Final = 64
#: What must be mended first, what cannot be judged last.
_ORDER: Final = (Status.PROBLEM, Status.CAUTION, Status.OK, Status.UNKNOWN)
_DEFAULT: Final = (
    "* common practice or an estimate, no source: a maker's limit wins, and the setup's [limits]."
)


def fit_page(study: Study, look: Look, stock: Bin | None = None, chosen: int | None = None) -> Page:
    """The Fit view: its verdict stays in sight, all else scrolls; a mark at one of the unknown checks.

    The bench is judged as it stands; where the order renews what is wrong, its verdict stands below.

    A bin prices wear and has belts.
    """
    verdict = verdict_line(fit_verdict(study), look)
    rows = [clip(row, look.width) for row in _rows(study, look, stock)]
    ordered = _with_parts(study, look, stock)
    places = unknown_rows(study, look)
    if chosen is not None and places:
        at = places[min(chosen, len(places) - 1)]
        first, *rest = rows[at]
        mark = line(Span(look.glyphs.bullet, Role.KEY), Span(first.text[1:], first.role))
        rows[at] = line(mark, *rest)
        return Page((_with_hint(verdict, look), *ordered), tuple(rows))
    return Page((verdict, *ordered), tuple(rows))


def _with_parts(study: Study, look: Look, stock: Bin | None) -> Iterator[Line]:
    """The verdict with the parts of the order on, where that is another one: here none of them is on."""
    sheet = order_sheet(study, stock)
    if sheet is None or sheet.after is study.bench:
        return
    fitted = replace(study, bench=sheet.after)
    if _wrong(fitted) != _wrong(study):
        after, short = fit_verdict(fitted), fit_summary(fitted).removeprefix("fit: ")
        text = f"With the parts of {ORDER} Order on it {after.text[0].lower()}{after.text[1:]}"
        narrow = f"With {ORDER} Order: {short}"
        yield verdict_line(Span(narrow if look.width < _NARROW else text, after.role), look)


def _wrong(study: Study) -> set[tuple[str, Status]]:
    return {(c.check, c.status) for c in study.fit if c.status in {Status.PROBLEM, Status.CAUTION}}


def _with_hint(verdict: Line, look: Look) -> Line:
    """What the mark at an unknown check is for, where there is room to say it."""
    said = line(Span("j k mark a ?, Enter fills it in ", Role.DIM))
    return spread(verdict, said, look.width) if width(verdict) + width(said) < look.width else verdict


def shown_checks(study: Study) -> list[Check]:
    """The checks in the order of the view."""
    return sorted(study.fit, key=lambda check: _ORDER.index(check.status))


def unknown_rows(study: Study, look: Look) -> list[int]:
    """The row of each check that cannot be made, in the order of the view."""
    found, at = [], 0
    for check in shown_checks(study):
        if check.status is Status.UNKNOWN:
            found.append(at)
        at += len(check_lines(check, look))
    return found


def fit_lines(study: Study, look: Look, stock: Bin | None = None) -> list[Line]:
    """The Fit view in one piece."""
    page = fit_page(study, look, stock)
    return [*page.head, *page.rows]


def fit_summary(study: Study) -> str:
    """The fit in a few words, for a line that has room for no more.

    Such as `fit: 1 problem, 2 cautions, 3 unknown, chain 2 links short`, or `fit: ok`.
    """
    tally = Counter(check.status for check in study.fit)
    said = [
        count(tally[status], status.value) for status in (Status.PROBLEM, Status.CAUTION) if tally[status]
    ]
    said += [f"{tally[Status.UNKNOWN]} unknown"] if tally[Status.UNKNOWN] else []
    room, short_by = study.chain.room, study.chain.short_by
    short = [f"chain {count(short_by, 'link')} short"] if room is not None and room.tears else []
    return f"fit: {', '.join([*said, *short]) or 'ok'}"


def _rows(study: Study, look: Look, stock: Bin | None) -> Iterator[Line]:
    for check in shown_checks(study):
        yield from check_lines(check, look)
    if any(check.default and check.figure is not None for check in study.fit):
        yield from told(_DEFAULT, look.width - 1, Role.DIM, "  ")
    yield ()
    yield from indexing_lines(study, look)
    yield from _worn(study, look, stock)
    yield from line_lines(study, look)
    yield from motor_lines(study, look)
    yield from fixed_lines(study, look)
    yield from belt_lines(study, look, stock) if study.bench.belted else chain_lines(study, look)
    if study.scrutiny is not None:
        yield ()
        yield from _scrutiny(study.scrutiny, study.wheel.source, look)


def _worn(study: Study, look: Look, stock: Bin | None) -> Iterator[Line]:
    """What can stay and what it costs to wear it out, at the setup's own prices, else the bin's."""
    rows = list(wear_lines(study, look))
    costs = costs_of(study.bench, prices_for(study.bench, stock))
    if costs is not None:
        rows += costs_lines(costs, look)
    yield from (*rows, ()) if rows else ()


def sign(status: Status, glyphs: Glyphs) -> str:
    """One character for a status."""
    return {
        Status.OK: glyphs.tick,
        Status.CAUTION: "!",
        Status.PROBLEM: glyphs.cross,
        Status.UNKNOWN: "?",
    }[status]


def check_lines(check: Check, look: Look) -> list[Line]:
    """One check: status, name, figure against limit, bar; then the sentence, unless all is well."""
    role = ROLES[check.status]
    narrow = look.width < _NARROW
    said = sign(check.status, look.glyphs)
    mark = _padded(said, 2, role) if narrow else _padded(f"{said} {check.status.value}", _MARK, role)
    row = line(mark, check.check.ljust(_NAME), _figures(check))
    if narrow and width(row) > look.width:
        row = line(mark, check.check)
        rest = [] if check.status is Status.OK else wrap(check.say, look.width - 5, role)
        return [row, *(line(" " * 4, part) for part in ((Span(_figures(check)),), *rest))]
    if not narrow and (check.bar or look.width >= _WIDE):
        bar = _bar(check, look.glyphs) if check.bar else ""
        row = line(
            mark, check.check.ljust(_NAME), _figures(check).ljust(_FIGURES - 1), _padded(bar, _BAR, role)
        )
    if check.status is Status.OK and look.width < _WIDE:
        return [clip(row, look.width)]
    return _with_sentence(row, check.say, role, look)


def _padded(text: str, room: int, role: Role) -> Line:
    """A text after a blank, in so many cells; blanks have no role, for one may be underlined."""
    kept = text.rstrip()
    return line(" ", Span(kept, role), " " * (room - len(kept)))


def _with_sentence(row: Line, say: str, role: Role, look: Look) -> list[Line]:
    """The sentence beside its check where it fits or the screen is wide, else under it."""
    used = width(row) + 2
    if look.width < _WIDE and used + cells(say) > look.width:
        return [clip(row, look.width), *(line(" " * 4, part) for part in wrap(say, look.width - 5, role))]
    first, *rest = wrap(say, look.width - used, role)
    return [line(row, "  ", first), *(line(" " * used, part) for part in rest)]


def number(value: float, decimals: int = 2) -> str:
    """A figure with the decimals that it can bear.

    >>> number(11), number(2.9937), number(9.2225), number(14.7512, 1)
    ('11', '2.99', '9.22', '14.8')
    """
    return f"{value:g}" if float(value).is_integer() else f"{value:.{decimals}f}"


def _figures(check: Check) -> str:
    """Figure and limit in words, such as `34 (limit 36) teeth`; a star marks a limit of common practice."""
    if check.figure is None:
        return ""
    star = " *" if check.default else ""
    decimals = 1 if check.unit in {"links", UNIT} else 2
    figure = number(check.figure, decimals)
    if not check.limit:
        return f"{figure if check.figure or check.unit != SPLIT else 'none'} {check.unit}{star}"
    limit = number(check.limit, decimals)
    if not check.least:
        word = "about" if _within_estimate(check) else "limit"
        return f"{figure} ({word} {limit}) {check.unit}{star}"
    bound = f"needs {limit}" if check.figure < check.limit else f"{limit} or more"
    return f"{figure} ({bound}) {check.unit}{star}"


def _within_estimate(check: Check) -> bool:
    """Whether a figure is past a limit by no more than what that is good to."""
    past = check.limit is not None and (check.figure or 0.0) > check.limit
    return past and check.default and not check.least and check.status is Status.OK


def _bar(check: Check, glyphs: Glyphs) -> str:
    """Used against allowed: the upright stands where it is full, at three quarters of the room."""
    assert check.bar is not None
    used, allowed = check.bar
    full = _BAR * 3 // 4
    size = _BAR if allowed <= 0 else min(round(used / allowed * full), _BAR)
    if _within_estimate(check):
        size = full
    elif used > allowed:
        size = max(size, full + 2)
    drawn = (glyphs.bar * min(size, full)).ljust(full) + glyphs.upright
    return (drawn + glyphs.bar * (size - full - 1)).ljust(_BAR)


def _scrutiny(found: Scrutiny, source: str, look: Look) -> Iterator[Line]:
    """The race limit: what to block, what to measure, the largest legal gear."""
    yield line(Span(" Race limit", Role.HEAD))
    legal = found.largest_legal
    facts = [f"Limit {found.limit_m:.2f} m on a {source} wheel: {found.verdict.value}."]
    if found.over:
        facts.append(f"Block {', '.join(f'{g.label} ({g.development_m:.3f} m)' for g in found.over)}.")
    if found.close:
        named = ", ".join(f"{g.label} ({g.development_m:.3f} m)" for g in found.close)
        facts.append(f"Measure on the floor before the start: {named}.")
    facts.append(
        f"Largest legal gear: {legal.label}, {legal.development_m:.3f} m." if legal else "No gear is legal."
    )
    for text in facts:
        yield from told(text, look.width - 1, indent="  ")
