"""What in a setup may be meant but is unusual: said, never refused."""

from collections.abc import Iterator
from typing import Final

from cogwright.core.common.errors import Problem
from cogwright.core.setup.model import Setup
from cogwright.core.setup.sizes import is_known_bead_seat
from cogwright.core.setup.sprockets import Where

#: More teeth than rings and cogs are made with, but for one bike in thousands (common practice, no source).
MOST_TEETH: Final[dict[Where, int]] = {"ring": 70, "cog": 60}


def cautions(setup: Setup) -> tuple[Problem, ...]:
    """Unusual facts of a setup: a bead seat diameter that is not in use, more teeth than are made."""
    return (*_bead_seat(setup), *_teeth("ring", setup.crank.rings), *_teeth("cog", setup.rear.cogs))


def _bead_seat(setup: Setup) -> Iterator[Problem]:
    size = setup.wheel.size
    if size is None or is_known_bead_seat(size):
        return
    what = f"{size.rsplit('-', 1)[-1]} mm is no bead seat diameter in common use"
    measure = "" if setup.wheel.rollout_mm is not None else ", or measure rollout_mm"
    yield Problem(what, f"read the marking on the tyre again{measure}", "wheel.size")


def _teeth(where: Where, sprockets: tuple[int, ...]) -> Iterator[Problem]:
    key = "crank.rings" if where == "ring" else "rear.cogs"
    for teeth in sprockets:
        if is_unusual(where, teeth):
            yield Problem(unusual_words(where, teeth), "count the teeth again", key)


def is_unusual(where: Where, teeth: int) -> bool:
    """Whether a sprocket has more teeth than such are made with.

    >>> is_unusual("ring", 110), is_unusual("ring", 62), is_unusual("cog", 52)
    (True, False, False)
    """
    return teeth > MOST_TEETH[where]


def unusual_words(where: Where, teeth: int) -> str:
    """Why one asks about such a sprocket."""
    return f"a {where} of {teeth} teeth is unusual, few have more than {MOST_TEETH[where]}"
