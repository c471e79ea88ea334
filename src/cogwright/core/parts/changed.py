"""Another bin out of a bin: a part put in, changed, or taken out; a price given to it."""

from typing import Any, Final, get_args

from cogwright.core.parts.bin import Bin, Part

#: The bin's lists of parts, by what they are called in the file, and what one of them is called.
KINDS: Final[dict[str, str]] = {
    "rings": "ring",
    "cogs": "loose cog",
    "carriers": "riveted cogs",
    "cassettes": "cassette",
    "chains": "chain",
    "rear_derailleurs": "rear derailleur",
    "front_derailleurs": "front derailleur",
    "hubs": "hub gear",
    "belts": "belt",
    "small_parts": "small part",
}


def model_of(kind: str) -> type[Part]:
    """What a part of a kind says."""
    found: type[Part] = get_args(Bin.model_fields[kind].annotation)[0]
    return found


def kind_of(stock: Bin, part: Part) -> str:
    """The list that a part of a bin stands in."""
    return next(kind for kind in KINDS if part in getattr(stock, kind))


def with_part(stock: Bin, kind: str, part: Part, instead: Part | None = None) -> Bin:
    """The bin with a part more, or with one in the place of another."""
    there: tuple[Any, ...] = getattr(stock, kind)
    if instead is None:
        return stock.model_copy(update={kind: (*there, part)})
    at = there.index(instead)
    return stock.model_copy(update={kind: (*there[:at], part, *there[at + 1 :])})


def without_part(stock: Bin, kind: str, part: Part) -> Bin:
    """The bin without a part."""
    there: tuple[Any, ...] = getattr(stock, kind)
    at = there.index(part)
    return stock.model_copy(update={kind: (*there[:at], *there[at + 1 :])})


def priced(stock: Bin, part: Part, price: float | None) -> Bin:
    """The bin with another price on one of its parts; None where it is not known."""
    return with_part(stock, kind_of(stock, part), part.model_copy(update={"price": price}), part)
