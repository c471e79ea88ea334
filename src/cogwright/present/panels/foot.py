"""The bottom of the screen: what the change cost in one line, a message, and the keys."""

from collections import Counter
from collections.abc import Sequence
from typing import NamedTuple

from cogwright.core.fit.check import Status
from cogwright.core.gears.gears import Gear
from cogwright.core.study import Study
from cogwright.present.lines import Line, Look, Role, Span, clip, line, plain, width, wrap
from cogwright.present.spots import Spot, SpotLine

GAP, NARROW_GAP = "   ", "  "


def summary_line(study: Study, look: Look) -> Line:
    """Lost and gained range, jumps and overlap, shortened where there is no room for all."""
    summary = study.summary
    ends = _ends(study)
    counts = [
        Span(f"jumps {summary.jumps}", Role.JUMP if summary.jumps else Role.TEXT),
        Span(_fit(study), _fit_role(study)),
        Span(f"range {summary.range_pct:.0f} %"),
        Span(f"worst {summary.worst_rear_step_pct:.1f} %", Role.DIM),
        Span(f"overlap {summary.overlaps}", Role.DIM),
    ]
    parts = ends + counts
    if width(_joined(ends, NARROW_GAP)) > look.width:
        parts = _ends(study, brief=True)
    while len(parts) > 2 and width(_joined(parts, NARROW_GAP)) > look.width:
        parts.pop()
    wide = _joined(parts, GAP)
    return wide if width(wide) <= look.width else clip(_joined(parts, NARROW_GAP), look.width)


def _fit(study: Study) -> str:
    """What the Fit view has to say, counted; its own first line says more."""
    tally = Counter(check.status for check in study.fit)
    for status in (Status.PROBLEM, Status.CAUTION):
        if tally[status]:
            return f"fit: {tally[status]} {status.value}{'s' if tally[status] > 1 else ''}"
    return "fit: ok" if not tally[Status.UNKNOWN] else "fit: ok so far"


def _fit_role(study: Study) -> Role:
    worst = {check.status for check in study.fit}
    if Status.PROBLEM in worst:
        return Role.PROBLEM
    return Role.CAUTION if Status.CAUTION in worst else Role.DIM


def _joined(parts: Sequence[Span], gap: str) -> Line:
    return line(" ", *(piece for part in parts for piece in (part, Span(gap))))[:-1]


def _ends(study: Study, brief: bool = False) -> list[Span]:
    """Both ends against the baseline, else in m; in brief without the number of gears."""
    against, summary = study.comparison, study.summary
    if against is None:
        return [Span(f"low {summary.lowest_m:.2f} m"), Span(f"high {summary.highest_m:.2f} m")]
    return [
        _end("low", against.low_change_pct, against.low_change_pct > 0, () if brief else against.lost_low),
        _end(
            "high", against.high_change_pct, against.high_change_pct < 0, () if brief else against.lost_high
        ),
    ]


def _end(name: str, change_pct: float, lost: bool, gears: Sequence[Gear]) -> Span:
    size = abs(change_pct)
    if size < 0.05:
        return Span(f"{name} as before", Role.DIM)
    count = f" ({len(gears)} gear{'s' if len(gears) != 1 else ''})" if gears else ""
    word = "lost" if lost else "gained"
    return Span(f"{name} {size:.1f} % {word}{count}", Role.LOST if lost else Role.GAINED)


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
