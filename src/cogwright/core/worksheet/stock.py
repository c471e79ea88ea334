"""What an order sheet does to a parts bin: parts counted out of it, and facts of parts written into it."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any, Final, Literal

from cogwright.core.chain.bolt_circle import circle_of
from cogwright.core.common.errors import CogwrightError
from cogwright.core.common.words import few
from cogwright.core.parts.bin import (
    BeltPart,
    Bin,
    CarrierPart,
    CassettePart,
    ChainPart,
    CogPart,
    FrontDerailleurPart,
    HubPart,
    Part,
    RearDerailleurPart,
    RingPart,
    SmallPart,
)
from cogwright.core.setup.model import Setup
from cogwright.core.worksheet.sheet import Change, Costing, Item, Source

#: The list of a bin that holds parts of a kind.
KINDS: Final[dict[type[Part], str]] = {
    RingPart: "rings",
    CogPart: "cogs",
    CarrierPart: "carriers",
    CassettePart: "cassettes",
    ChainPart: "chains",
    RearDerailleurPart: "rear_derailleurs",
    FrontDerailleurPart: "front_derailleurs",
    HubPart: "hubs",
    BeltPart: "belts",
    SmallPart: "small_parts",
}
Fact = Literal["price", "mass_g", "lead_days"]
#: Names of small parts as an order sheet begins with them, and their kind in a bin.
_SMALL: Final = {
    "ring bolts": "ring bolts",
    "rear shifter": "rear shifter",
    "front shifter": "front shifter",
    "hub shifter": "hub shifter",
    "rear gear cable": "gear cable",
    "front gear cable": "gear cable",
    "hub gear cable": "gear cable",
    "chain joint": "chain joint",
    "chain guide": "chain guide",
    "freehub driver": "freehub driver",
    "crank": "crank",
    "wheel": "wheel",
    "tyre": "tyre",
}


class NotInStock(CogwrightError):
    """Parts are not in the bin any more, in the number that is wanted: another session may have had them."""


def from_stock(of: Costing) -> tuple[Part, ...]:
    """The bin's parts that the change takes out of it, one for each piece."""
    return tuple(item.part for item in of.parts_from(Source.STOCK) if item.part is not None)


def counted(stock: Bin, parts: Sequence[Part], by: int) -> Bin:
    """The bin with `by` more of each of these parts (fewer below 0), each named once a piece.

    Raises NotInStock, and then nothing is counted.
    """
    missing: list[str] = []
    for part in parts:
        kind, at = _place(stock, part)
        found = None if at is None else getattr(stock, kind)[at]
        if found is None or found.count + by < 0:
            missing.append(part.name)
        else:
            stock = _with(stock, kind, at, found.model_copy(update={"count": found.count + by}))
    if missing:
        raise NotInStock(f"Not in the bin any more: {few(missing, 3)}. Nothing was booked")
    return stock


def _with(stock: Bin, kind: str, at: int | None, part: Part) -> Bin:
    parts = getattr(stock, kind)
    at = len(parts) if at is None else at
    return stock.model_copy(update={kind: (*parts[:at], part, *parts[at + 1 :])})


def _place(stock: Bin, part: Part) -> tuple[str, int | None]:
    """The list that a part stands in, and where: whatever has become of its count and its price since."""
    kind = KINDS[type(part)]
    bare = _bare(part)
    return kind, next((at for at, one in enumerate(getattr(stock, kind)) if _bare(one) == bare), None)


def _bare(part: Part) -> Part:
    return part.model_copy(update={"count": 0, "price": None, "mass_g": None, "lead_days": None})


@dataclass(frozen=True, slots=True)
class Unknown:
    """A fact of a part on the sheet that nobody has written down."""

    change: Change
    item: Item
    fact: Fact


def unknowns(of: Costing) -> Iterator[Unknown]:
    """Prices, masses and waits that are not known of what goes on, in the order of the sheet."""
    for change in of.changes:
        for item in change.on:
            if item.price is None:
                yield Unknown(change, item, "price")
            if item.mass_g is None:
                yield Unknown(change, item, "mass_g")
            if item.source is Source.BUY and item.lead_days is None:
                yield Unknown(change, item, "lead_days")


def with_fact(stock: Bin, of: Unknown, after: Setup, value: float | int) -> Bin:
    """The bin in which a part has the fact; one that the bin does not have yet is put in, to be ordered.

    Raises CogwrightError for a part that only its file can describe.
    """
    part = of.item.part or wanted(of.change, of.item, after)
    kind, at = _place(stock, part)
    found = part if at is None else getattr(stock, kind)[at]
    return _with(stock, kind, at, found.model_copy(update={of.fact: value}))


def wanted(change: Change, item: Item, after: Setup) -> Part:
    """A part that would do for an item, as the bin's file would describe it. Raises CogwrightError."""
    what = item.what.split(",", maxsplit=1)[0]
    first, _, rest = what.partition(" ")
    make = _MADE.get(what) or (_MADE.get(first) if first in {"cassette", "chain"} or _teeth(rest) else None)
    if make is None or what == "chain joint":
        return _small(item.what, after)
    return make(item.what, _teeth(rest), change, after)


def _teeth(text: str) -> tuple[int, ...]:
    """The tooth counts that stand behind a part's name; none for other words."""
    found = text.split("-")
    return tuple(map(int, found)) if all(each.isdecimal() for each in found) else ()


def _ring(name: str, teeth: tuple[int, ...], _: Change, after: Setup) -> Part:
    circle = circle_of(after.crank, teeth[0])
    return RingPart(name=name, teeth=teeth[0], bolt_circle_mm=circle, bolts=after.crank.bolts)


def _cog(name: str, teeth: tuple[int, ...], _: Change, after: Setup) -> Part:
    return CogPart(name=name, teeth=teeth[0], family=after.rear.family)


def _carrier(name: str, teeth: tuple[int, ...], _: Change, after: Setup) -> Part:
    return CarrierPart(name=name, cogs=teeth, family=after.rear.family)


def _cassette(name: str, _: tuple[int, ...], __: Change, after: Setup) -> Part:
    rear = after.rear
    return CassettePart(
        name=name, cogs=rear.cogs, carriers=rear.carriers, family=rear.family, driver=rear.cassette_driver
    )


def _chain(name: str, _: tuple[int, ...], change: Change, __: Setup) -> Part:
    if change.chain is None or change.chain.links is None:
        raise CogwrightError("The chain's length is not known: write it into the bin's file")
    return ChainPart(name=name, links=change.chain.links, outer_width_mm=change.chain.outer_width_mm)


def _rear_derailleur(name: str, _: tuple[int, ...], __: Change, after: Setup) -> Part:
    return RearDerailleurPart(name=name, **_given(RearDerailleurPart, after.rear_derailleur))


def _front_derailleur(name: str, _: tuple[int, ...], __: Change, after: Setup) -> Part:
    return FrontDerailleurPart(name=name, **_given(FrontDerailleurPart, after.front_derailleur))


#: How a part is described whose name begins so.
_MADE: Final[dict[str, Callable[[str, tuple[int, ...], Change, Setup], Part]]] = {
    "ring": _ring,
    "cog": _cog,
    "carrier": _carrier,
    "cassette": _cassette,
    "chain": _chain,
    "rear derailleur": _rear_derailleur,
    "front derailleur": _front_derailleur,
}


def _given(kind: type[Part], table: Any) -> dict[str, Any]:
    return {key: getattr(table, key) for key in kind.model_fields if key in type(table).model_fields}


def _small(name: str, after: Setup) -> SmallPart:
    kind = next((kind for begins, kind in _SMALL.items() if name.startswith(begins)), None)
    if kind is None:
        raise CogwrightError(
            f"{name} is none that can be put into the bin here: write it into the bin's file"
        )
    facts: dict[str, Any] = {"kind": kind}
    if kind == "rear shifter":
        facts |= {
            "clicks": after.rear.clicks,
            "family": after.shifters.family,
            "pull_mm": after.shifters.pull_mm,
        }
    elif kind == "ring bolts":
        facts |= {"bolts": after.crank.bolts}
    elif kind in {"wheel", "tyre"}:
        facts |= {"size": after.wheel.size}
    if kind in {"wheel", "freehub driver"}:
        facts |= {"driver": after.rear.driver, "smallest_cog": after.rear.smallest_cog}
    return SmallPart(name=name, **facts)
