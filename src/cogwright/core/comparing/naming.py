"""Names that say what differs: for a candidate beside its baseline, and for a file saved as another one."""

from collections import Counter
from collections.abc import Iterator, Sequence
from typing import Final

from cogwright.core.common.safe_text import cells, cut
from cogwright.core.common.words import few
from cogwright.core.setup.differences import differences
from cogwright.core.setup.model import Setup

#: Letters of candidates, in the order in which they are kept.
LETTERS: Final = "ABCDEF"
#: As long as a name of a setup may be.
_LONGEST: Final = 200


def what_differs(baseline: Setup, bench: Setup) -> str:
    """What a bench has otherwise than its baseline, short enough for a list; the sprockets first."""
    said = [*_rings(baseline, bench), *_cogs(baseline, bench), *_wheel(baseline, bench)]
    if said:
        return ", ".join(said)
    other = [text for text in differences(baseline, bench) if not text.startswith(("name:", "notes:"))]
    return few(other, 1) if other else "as the baseline"


def short_name(setup: Setup) -> str:
    """A setup by its sprockets, where there is nothing to set it against.

    >>> from cogwright.core.setup.model import Crank, Rear, Setup, Wheel
    >>> crank, rear = Crank(rings=(30, 46)), Rear(cogs=(11, 34))
    >>> short_name(Setup(name="x", wheel=Wheel(size="40-622"), crank=crank, rear=rear))
    '30-46 rings, 11-34'
    """
    return f"{_ring_words(setup)}, {_ends(setup)}"


def _ring_words(setup: Setup) -> str:
    rings = setup.crank.rings
    return f"{'-'.join(map(str, rings))} ring{'s' if len(rings) > 1 else ''}"


def _ends(setup: Setup) -> str:
    cogs = setup.rear.cogs
    return f"{cogs[0]}-{cogs[-1]}" if len(cogs) > 1 else f"{cogs[0]} cog"


def _rings(baseline: Setup, bench: Setup) -> Iterator[str]:
    if baseline.crank.rings != bench.crank.rings:
        yield _ring_words(bench)


def _cogs(baseline: Setup, bench: Setup) -> Iterator[str]:
    """The ends of another cassette; where those stay, the few cogs that are new, or how many there are."""
    was, now = baseline.rear.cogs, bench.rear.cogs
    if _ends(baseline) != _ends(bench):
        yield _ends(bench)
    elif len(was) != len(now):
        yield f"{len(now)} cogs"
    elif was != now:
        new = [str(n) for n in now if n not in was]
        yield f"cog{'s' if len(new) > 1 else ''} {' '.join(new)}" if len(new) < 4 else f"{len(new)} cogs new"
    if baseline.rear.hub_ratios != bench.rear.hub_ratios:
        yield f"hub of {len(bench.rear.hub_ratios)}" if len(bench.rear.hub_ratios) > 1 else "no hub gear"


def _wheel(baseline: Setup, bench: Setup) -> Iterator[str]:
    if baseline.wheel.size != bench.wheel.size and bench.wheel.size:
        yield bench.wheel.size
    elif baseline.wheel.rollout_mm != bench.wheel.rollout_mm and bench.wheel.rollout_mm:
        yield f"rollout {bench.wheel.rollout_mm:g} mm"


def candidate_names(baseline: Setup | None, benches: Sequence[Setup]) -> tuple[str, ...]:
    """A name for each candidate; those that come out alike are told apart by the next thing that differs."""
    names = [what_differs(baseline, bench) if baseline else short_name(bench) for bench in benches]
    often = Counter(names)
    return tuple(
        f"{name}, {_apart(bench, [other for other in benches if other is not bench])}"
        if often[name] > 1
        else name
        for name, bench in zip(names, benches, strict=True)
    )


def _apart(bench: Setup, others: Sequence[Setup]) -> str:
    """What a bench has that the others have not, in brief."""
    found = [set(differences(other, bench)) for other in others]
    mine = sorted(set.union(*found)) if found else []
    told = [text for text in mine if not text.startswith(("name:", "notes:", "baseline"))]
    return cut(told[0].removeprefix("cogs: "), 40) if told else "the same again"


def changed_name(baseline: Setup, bench: Setup) -> str:
    """A name for a setup that was made of another one: its name, and what was changed.

    `1x11, 40` is one ring of 40 teeth and eleven cogs, in the place of other numbers of them.
    """
    was, now = ((len(s.crank.rings), len(s.rear.cogs)) for s in (baseline, bench))
    said = [f"{now[0]}x{now[1]}"] if was != now else []
    rings = "-".join(map(str, bench.crank.rings))
    said += [rings] if baseline.crank.rings != bench.crank.rings else []
    said += [*_cogs(baseline, bench), *_wheel(baseline, bench)]
    said = [text for text in said if text != f"{now[1]} cogs"] or ["changed"]
    room = _LONGEST - cells(", ".join(said)) - 2
    return f"{cut(baseline.name, room, '')}, {', '.join(said)}"
