"""The bottom of the screen: what the change cost in one line, a message, and the keys."""

from collections import Counter
from collections.abc import Sequence
from functools import lru_cache
from typing import Final, NamedTuple

from cogwright.core.common.words import count
from cogwright.core.fit.check import Status
from cogwright.core.study import Study
from cogwright.present.lines import Line, Look, Role, Span, clip, line, plain, width, wrap
from cogwright.present.panels.before_now import WIDTH as TABLE
from cogwright.present.panels.before_now import FigureChange, before_now, foot_table
from cogwright.present.panels.screen import WIDE
from cogwright.present.spots import Spot, SpotLine

GAP, NARROW_GAP = "   ", "  "
#: Lower screens than this say the change in one line.
_HIGH: Final = 20


def change_lines(study: Study, look: Look) -> list[Line]:
    """What has changed: in the foot a table where there is room for it, one line on a small screen.

    On a wide screen the table stands in the panel, if that is high enough.
    """
    if look.width >= WIDE and look.height >= _HIGH:
        return []
    if look.width < TABLE or look.height < _HIGH:
        return [summary_line(study, look)]
    return foot_table(study, Span(f" {_fit(study)}", _fit_role(study)), look)


def summary_line(study: Study, look: Look) -> Line:
    """Both ends, jumps, the fit and more in one line, as much as there is room for."""
    low, high, _, jumps, largest, _ = before_now(study)
    steps = study.summary
    parts = [
        *(_end(of, gone) for of, gone in ((low, _lost(study, low=True)), (high, _lost(study, low=False)))),
        Span(count(steps.standing_out, "jump"), jumps.role),
        Span(_fit(study), _fit_role(study)),
        Span(f"range {steps.range_pct:.0f} %"),
        Span(f"largest step {largest.now} %", Role.DIM),
        Span(f"wide {steps.jumps - steps.standing_out}", Role.DIM),
    ]
    if width(_joined(parts[:2], NARROW_GAP)) > look.width:
        parts[:2] = [_end(of) for of in (low, high)]
    if width(_joined(parts[:2], NARROW_GAP)) > look.width:
        parts[0] = Span(f"low: {low.words.rpartition(', ')[2]}", low.role)
    while len(parts) > 2 and width(_joined(parts, NARROW_GAP)) > look.width:
        parts.pop()
    wide = _joined(parts, GAP)
    return wide if width(wide) <= look.width else clip(_joined(parts, NARROW_GAP), look.width)


def _end(of: FigureChange, gone: int = 0) -> Span:
    """An end against the baseline, else in m."""
    name, unit = of.name.split()
    lost = f" ({count(gone, 'gear')})" if gone else ""
    return Span(f"{name} {of.words}{lost}" if of.words else f"{name} {of.now} {unit}", of.role)


def _lost(study: Study, low: bool) -> int:
    """How many gears are lost at an end, as it is felt."""
    felt = study.felt
    return 0 if felt is None else len(felt.lost_low if low else felt.lost_high)


def _fit(study: Study) -> str:
    """What the Fit view has to say, counted; its own first line says more."""
    tally = Counter(check.status for check in study.fit)
    for status in (Status.PROBLEM, Status.CAUTION):
        if tally[status]:
            return f"fit: {count(tally[status], status.value)}"
    unknown = f"{tally[Status.UNKNOWN]} unknown"
    known = "ok, " if tally[Status.OK] else ""
    return f"fit: {known}{unknown}" if tally[Status.UNKNOWN] else "fit: ok"


def _fit_role(study: Study) -> Role:
    worst = {check.status for check in study.fit}
    if Status.PROBLEM in worst:
        return Role.PROBLEM
    return Role.CAUTION if Status.CAUTION in worst else Role.DIM


def _joined(parts: Sequence[Span], gap: str) -> Line:
    return line(" ", *(piece for part in parts for piece in (part, Span(gap))))[:-1]


def message_lines(text: str, look: Look) -> list[Line]:
    """Most messages take one line; an error with a long name in it may need up to a quarter of the screen."""
    most = max(look.height // 4, 1)
    lines = wrap(text, look.width - 1, Role.MESSAGE) if most > 1 else []
    if len(lines) < 2:
        return [clip((Span(f" {text}", Role.MESSAGE),), look.width) if text else ()]
    return [(Span(f" {plain(each)}", Role.MESSAGE),) for each in lines[:most]]


class FootKey(NamedTuple):
    """A key in a foot: how it is written, its word, and what a click on it stands for, if anything."""

    key: str
    word: str
    means: str = ""


def keys_line(keys: Sequence[FootKey], look: Look) -> SpotLine:
    """The keys and what they do, as many as there is room for; the last two are always there."""
    return _keys_line(tuple(keys), look)


@lru_cache(maxsize=64)
def _keys_line(keys: tuple[FootKey, ...], look: Look) -> SpotLine:
    """Kept: one key after another the foot stays the same."""
    room = look.width - 1 - sum(map(_cells, keys[-2:]))
    chosen: list[FootKey] = []
    for key in keys[:-2]:
        room -= _cells(key)
        if room < 0:
            break
        chosen.append(key)
    spans, spots, at = list[Span](), list[Spot](), 1
    for key in [*chosen, *keys[-2:]]:
        spans += [Span(key.key, Role.KEY), Span(f" {key.word}  ", Role.DIM)]
        spots += [Spot(at, at + _cells(key) - 2, key.means)] if key.means else []
        at += _cells(key)
    return SpotLine(clip(line(" ", *spans), look.width), tuple(spots))


def _cells(key: FootKey) -> int:
    return len(key.key) + len(key.word) + 3


def key_rows(keys: Sequence[FootKey], look: Look) -> list[SpotLine]:
    """All keys and what they do, in as many lines as they need."""
    rows: list[list[FootKey]] = [[]]
    for key in keys:
        if rows[-1] and sum(map(_cells, rows[-1])) + _cells(key) >= look.width:
            rows.append([])
        rows[-1].append(key)
    return [keys_line(row, look) for row in rows]
