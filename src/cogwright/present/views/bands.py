"""The speeds of each gear as a floating bar: from the low cadence to the high one, all on one axis."""

from typing import Final

from cogwright.core.riding.bands import SpeedBand, SpeedBands, bands_of
from cogwright.core.study import Study
from cogwright.present.lines import Line, Look, Role, Span, clip, line, told

#: Cells of the figures beside the bars, with and without where to shift up, which stands from a width on.
_SPAN, _UP, _WIDE = 14, 9, 60
#: Values on the axis stand at least so many cells apart.
_APART: Final = 8
_STEPS: Final = (1, 2, 5, 10, 20, 50, 100, 200, 500)


def band_lines(study: Study, look: Look) -> list[Line]:
    """A line a gear, easiest first, over an axis in km/h; gaps are said where they are."""
    found, (low, preferred, high) = bands_of(study), study.bench.rider.cadence_rpm
    label = max(4, *(len(band.gear.label) for band in found.bands)) + 1
    up = _UP if look.width >= _WIDE else 0
    room = max(look.width - label - 2 - _SPAN - up, 8)
    top = max(band.high_kmh for band in found.bands)
    rows: list[Line] = [_head(label, room, top, up)]
    gaps = {gap.below: gap for gap in found.gaps}
    for band in found.bands:
        out = band.gear in study.left_out
        rows.append(_row(band, (label, room, up), top, out, look))
        if band.gear in gaps:
            gap = gaps[band.gear]
            said = f"   no liked cadence from {gap.low_kmh:.1f} to {gap.high_kmh:.1f} km/h"
            rows.append(line(Span(said, Role.CAUTION)))
    rows += told(
        f"Each bar goes from {low:g} to {high:g} rpm, with {look.glyphs.mark} at {preferred:g} rpm. Shift up "
        "where both gears are equally far from that.",
        look.width,
        Role.DIM,
    )
    return [clip(row, look.width) for row in [*rows, *_gap_words(found, look)]]


def _head(label: int, room: int, top: float, up: int) -> Line:
    """The axis: round speeds, each begun where it lies."""
    step = next((s for s in _STEPS if s * room / top >= _APART), _STEPS[-1])
    axis = ""
    for at in range(0, int(top) + 1, step):
        cell = int(at * room / top)
        axis += f"{'':{max(cell - len(axis), 0)}}{at}" if cell + len(str(at)) <= room else ""
    tail = f"{'km/h':>{_SPAN}}" + (f"{'up at':>{up}}" if up else "")
    return (Span(f" {'gear':<{label}}{axis:<{room}} {tail}", Role.HEAD),)


def _row(band: SpeedBand, sizes: tuple[int, int, int], top: float, out: bool, look: Look) -> Line:
    label, room, up = sizes
    figures = f"{f'{band.low_kmh:.1f} to {band.high_kmh:.1f}':>{_SPAN}}"
    if up:
        figures += f"{band.up_kmh:{up}.1f}" if band.up_kmh is not None else " " * up
    role = Role.DIM if out else Role.TEXT
    return line(
        Span(f" {band.gear.label:<{label}}", role),
        Span(floating(band, top, room, look), Role.DIM if out else Role.BENCH),
        Span(f" {figures}", role),
    )


def floating(band: SpeedBand, top: float, room: int, look: Look) -> str:
    """A bar from the lowest speed to the highest, with the preferred one marked, in so many cells."""
    start, end = int(band.low_kmh * room / top), max(int(band.high_kmh * room / top), 1)
    start = min(start, end - 1)
    at = min(max(int(band.preferred_kmh * room / top), start), end - 1)
    cells = " " * start + look.glyphs.bar * (end - start)
    return (cells[:at] + look.glyphs.mark + cells[at + 1 :]).ljust(room)


def _gap_words(found: SpeedBands, look: Look) -> list[Line]:
    if found.gaps:
        return []
    return told("From the lowest speed to the highest some gear has a liked cadence.", look.width, Role.OK)
