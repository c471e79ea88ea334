"""Indexing drawn: a strip a sprocket, on which the cage stands where the click puts it."""

from collections.abc import Iterator
from typing import Final

from cogwright.core.indexing.clicks import Clicks, Landing
from cogwright.core.indexing.indexing import front_indexing, rear_indexing
from cogwright.core.study import Study
from cogwright.present.lines import Line, Look, Role, Span, clip, line, told

#: Cells of a strip, which reaches half a pitch to either side; with a middle, so odd.
_WIDE: Final = 41
_NARROW: Final = 21
_REACH_PCT: Final = 50.0
_ROLES: Final = {"o": Role.OK, "!": Role.CAUTION, "x": Role.PROBLEM}


def indexing_lines(study: Study, look: Look) -> Iterator[Line]:
    """Both shifters, as far as the setup gives the figures; nothing where it gives none."""
    for title, name, of in (
        ("Indexing", "cog", rear_indexing(study.bench)),
        ("Front indexing", "ring", front_indexing(study.bench)),
    ):
        if of.clicks is not None:
            yield from _one(title, name, of.clicks, look)
            yield ()


def _one(title: str, name: str, clicks: Clicks, look: Look) -> Iterator[Line]:
    yield line(Span(f" {title}", Role.HEAD))
    moves, gaps = _span(clicks.travel_mm), _span(clicks.gaps_mm)
    yield from told(f"A click moves the cage {moves} mm, the {name}s are {gaps} mm apart.", look.width)
    head = f" {name:>4}     mm     %  of a pitch"
    yield clip(line(Span(head, Role.HEAD)), look.width)
    size = _WIDE if look.width >= 72 else min(_NARROW, (look.width - 20) // 2 * 2 + 1)
    for landing in clicks.landings[::-1]:
        yield clip(_row(landing, clicks, size, look), look.width)
    ok, most = clicks.limits_pct
    legend = (
        f"Left is towards the smaller {name}s; the uprights stand at {ok:.0f} and {most:.0f} % of a pitch."
        f" o well, ! may hesitate or rub, x does not index."
    )
    yield from told(legend, look.width, Role.DIM)


def _span(values: tuple[float, ...]) -> str:
    low, high = min(values), max(values)
    return f"{low:.2f}" if high - low < 0.005 else f"{low:.2f} to {high:.2f}"


def signed(value: float, decimals: int) -> str:
    """A figure with its sign; none on a zero.

    >>> signed(-0.004, 2), signed(-0.4, 0), signed(1.26, 1)
    ('0.00', '0', '+1.3')
    """
    figure = f"{value:+.{decimals}f}"
    return figure[1:] if float(figure) == 0.0 else figure


def sign_of(landing: Landing, clicks: Clicks) -> str:
    """One character for how a sprocket is indexed: `o`, `!` or `x`."""
    ok, most = clicks.limits_pct
    off = abs(landing.off_pct)
    return "o" if off < ok - 1e-9 else "x" if off > most + 1e-9 else "!"


def _row(landing: Landing, clicks: Clicks, size: int, look: Look) -> Line:
    mark = sign_of(landing, clicks)
    said = " set here" if landing.teeth == clicks.set_on else ""
    said += " worst" if landing is clicks.worst and abs(landing.off_pct) > 0.05 else ""
    figures = f"{landing.teeth:>5} {signed(landing.off_mm, 2):>6} {signed(landing.off_pct, 0):>5}  "
    return line(Span(figures, _ROLES[mark]), *_strip(landing, clicks, size, look), Span(said, Role.DIM))


def _strip(landing: Landing, clicks: Clicks, size: int, look: Look) -> tuple[Span, ...]:
    """The strip with its uprights, and the sign where the cage stands; at an end when it is farther off."""
    cells = [look.glyphs.rule] * size
    for pct in (*clicks.limits_pct, *(-limit for limit in clicks.limits_pct), 0.0):
        if abs(pct) <= _REACH_PCT:
            cells[_cell(pct, size)] = look.glyphs.upright
    at = _cell(landing.off_pct, size)
    mark = sign_of(landing, clicks)
    return (
        Span("".join(cells[:at]), Role.DIM),
        Span(mark, _ROLES[mark]),
        Span("".join(cells[at + 1 :]), Role.DIM),
    )


def _cell(pct: float, size: int) -> int:
    half = (size - 1) / 2.0
    return round(half + half * max(-1.0, min(1.0, pct / _REACH_PCT)))
