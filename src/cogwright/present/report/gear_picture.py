"""The drawn picture of old against new: each gear a mark on one logarithmic scale, as SVG.

It stands in a page of its own making: no script, no link, no font from elsewhere; every text is escaped.
"""

import math
from collections.abc import Iterator, Sequence
from html import escape
from typing import Final

from cogwright.core.gears.gears import Gear, speed_kmh
from cogwright.core.study import Study

#: Size in units of the picture, and where the scale begins and ends in it.
WIDTH, HEIGHT, _LEFT, _RIGHT = 430, 168, 58, 422
#: Blue and vermillion of M. Okabe's and K. Ito's palette, darkened for white paper; grey for what was.
_NOW, _WAS, _GAIN, _LOSS, _INK = "#0072b2", "#7a7f83", "#cfe6f4", "#f7ddcc", "#24292c"
_SPEEDS: Final = (4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 50, 60, 80)
_MARGIN: Final = 1.06


def gear_picture(study: Study) -> str:
    """Both bikes' gears over the speed at the rider's own cadence, easiest at the left."""
    rpm = study.bench.rider.cadence_rpm[1]
    was = [_speed(gear, rpm) for gear in study.base_gears]
    now = [_speed(gear, rpm) for gear in study.gears]
    scale = _Scale(min(*was, *now) / _MARGIN, max(*was, *now) * _MARGIN)
    rows = [
        *_ends(scale, was, now),
        *_lane(scale, "before", was, 46, _WAS),
        *_lane(scale, "now", now, 88, _NOW),
        *_axis(scale),
    ]
    said = f"Gears before and now over the speed at {rpm:g} turns of the pedals a minute"
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {HEIGHT}" role="img" '
        f'aria-label="{escape(said)}" font-family="sans-serif" font-size="13" fill="{_INK}">'
    )
    return "\n".join([head, *rows, "</svg>"])


def _speed(gear: Gear, rpm: float) -> float:
    return speed_kmh(gear.development_m, rpm)


class _Scale:
    """From km/h to units across the picture: equal ways are equal ratios, as legs feel them."""

    def __init__(self, low: float, high: float) -> None:
        self.low, self.high = low, high

    def at(self, speed: float) -> float:
        share = math.log(speed / self.low) / math.log(self.high / self.low)
        return round(_LEFT + share * (_RIGHT - _LEFT), 1)


def _lane(scale: _Scale, name: str, speeds: Sequence[float], y: int, colour: str) -> Iterator[str]:
    yield f'<text x="4" y="{y + 5}" font-weight="bold">{escape(name)}</text>'
    first, last = scale.at(min(speeds)), scale.at(max(speeds))
    yield f'<line x1="{first}" y1="{y}" x2="{last}" y2="{y}" stroke="{colour}" stroke-width="2"/>'
    for speed in speeds:
        yield f'<circle cx="{scale.at(speed)}" cy="{y}" r="4.5" fill="{colour}" stroke="#fff"/>'


def _ends(scale: _Scale, was: Sequence[float], now: Sequence[float]) -> Iterator[str]:
    """What is won and what is lost at both ends, shaded and named."""
    for end, wins, place in ((min, min(now) < min(was), "hills"), (max, max(now) > max(was), "speed")):
        left, right = sorted((scale.at(end(was)), scale.at(end(now))))
        if right - left < 1.0:
            continue
        word = f"{'more' if wins else 'less'} for {place}"
        yield (
            f'<rect x="{left}" y="26" width="{round(right - left, 1)}" height="82" '
            f'fill="{_GAIN if wins else _LOSS}"/>'
        )
        anchor = "start" if end is min else "end"
        x = max(left, _LEFT) if end is min else right
        yield f'<text x="{x}" y="18" text-anchor="{anchor}">{escape(word)}</text>'


def _axis(scale: _Scale) -> Iterator[str]:
    yield f'<line x1="{_LEFT}" y1="120" x2="{_RIGHT}" y2="120" stroke="{_INK}"/>'
    last = -100.0
    for speed in _SPEEDS:
        at = scale.at(speed) if scale.low <= speed <= scale.high else -1.0
        if at - last >= 26.0 and at > 0:
            yield f'<line x1="{at}" y1="120" x2="{at}" y2="125" stroke="{_INK}"/>'
            yield f'<text x="{at}" y="139" text-anchor="middle">{speed}</text>'
            last = at
    yield f'<text x="{_LEFT}" y="158">easy, for hills</text>'
    yield f'<text x="{(_LEFT + _RIGHT) / 2}" y="158" text-anchor="middle">km/h</text>'
    yield f'<text x="{_RIGHT}" y="158" text-anchor="end">hard, for speed</text>'
