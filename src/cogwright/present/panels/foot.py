"""The bottom of the screen: what the change cost in one line, a message, and the keys."""

from collections import Counter
from collections.abc import Sequence

from cogwright.core.fit.check import Status
from cogwright.core.gears.gears import Gear
from cogwright.core.study import Study
from cogwright.present.lines import Line, Look, Role, Span, clip, line, width

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


def keys_line(keys: Sequence[tuple[str, str]], look: Look) -> Line:
    """The keys and what they do, as many as there is room for; the last ones are always there."""
    always = keys[-2:]
    room = look.width - 1 - sum(len(k) + len(name) + 3 for k, name in always)
    chosen: list[tuple[str, str]] = []
    for key, name in keys[:-2]:
        room -= len(key) + len(name) + 3
        if room < 0:
            break
        chosen.append((key, name))
    spans = [
        part
        for key, name in [*chosen, *always]
        for part in (Span(key, Role.KEY), Span(f" {name}  ", Role.DIM))
    ]
    return clip(line(" ", *spans), look.width)
