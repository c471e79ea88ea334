"""The facts of a bike as a mechanic is asked for them: one table, for a new bike and for that on the bench.

What is typed is read by what a fact is: teeth as people write lists of them, tyres by what they are called,
numbers with or without their unit. `unknown` is an answer, and takes a fact out.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any, Final, Literal, get_args

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from cogwright.core.common.errors import InputError, Problem
from cogwright.core.common.numbers import number_in, written
from cogwright.core.setup.edits import ReplaceCassette, SetField, SetSprockets
from cogwright.core.setup.model import Setup
from cogwright.core.setup.sprockets import Edit
from cogwright.core.setup.teeth_lists import CassetteRange, cassette_in, teeth_in
from cogwright.core.setup.tyre_names import called, sizes_called

AnswerKind = Literal["text", "tyre", "teeth", "cassette", "figure"]
#: What people type for what they do not know.
_UNKNOWN: Final = frozenset({"", "?", "-", "unknown", "none", "n/a"})
_YES_NO: Final = {"yes": True, "y": True, "true": True, "no": False, "n": False, "false": False}


@dataclass(frozen=True, slots=True)
class Asked:
    """One fact: its dotted key, what it is called, what to look at, its unit.

    `usual` is what the trade takes where nobody has looked: a suggestion, and never a fact until it is taken.
    What is `needed` cannot stay unknown. `applies` says whether a bike of this kind has it at all.
    """

    key: str
    label: str
    hint: str = ""
    unit: str = ""
    kind: AnswerKind = "figure"
    usual: Callable[[Setup], object] = lambda _: None
    needed: bool = False
    applies: Callable[[Setup], bool] = lambda _: True


@dataclass(frozen=True, slots=True)
class Several:
    """A text that can mean several values: to be asked about, never guessed."""

    sizes: tuple[str, ...] = ()
    cassette: CassetteRange | None = None


def _front(setup: Setup) -> bool:
    return len(setup.crank.rings) > 1


def _rear(setup: Setup) -> bool:
    return len(setup.rear.cogs) > 1


def _as_many(setup: Setup) -> object:
    """One click a cog, as a shifter is made for its cassette."""
    return len(setup.rear.cogs) if _rear(setup) else None


_MAKER: Final = "as its maker states"
INTAKE: Final = (
    Asked("name", "name", "what the shop calls the bike", kind="text", needed=True),
    Asked(
        "wheel.size",
        "tyre",
        "as its side says, or as it is called: 40-622, 700x32C, 26x2.00",
        kind="tyre",
        needed=True,
    ),
    Asked("crank.rings", "rings", "teeth of each, such as 30 46", kind="teeth", needed=True),
    Asked(
        "rear.cogs",
        "cogs",
        "teeth of each, such as 11 13 15; or the ends of a cassette in the bin, such as 11-32",
        kind="cassette",
        needed=True,
    ),
    Asked(
        "rear.clicks", "clicks", "positions that the rear shifter indexes", "", usual=_as_many, applies=_rear
    ),
    Asked("frame.chainstay_mm", "chainstay", "middle of bottom bracket to middle of rear axle", "mm"),
    Asked("chain.links", "chain", "inner and outer links counted together", "links"),
    Asked("rear_derailleur.largest_cog", "derailleur: largest cog", _MAKER, "teeth", applies=_rear),
    Asked("rear_derailleur.smallest_cog", "derailleur: smallest cog", _MAKER, "teeth", applies=_rear),
    Asked("rear_derailleur.capacity", "derailleur: capacity", _MAKER, "teeth", applies=_rear),
    Asked("front_derailleur.largest_ring", "front derailleur: largest ring", _MAKER, "teeth", applies=_front),
    Asked("front_derailleur.difference", "front derailleur: difference", _MAKER, "teeth", applies=_front),
    Asked("rear.smallest_cog", "freehub: smallest cog", "the smallest that the driver takes", "teeth"),
    Asked("crank.bolt_circle_mm", "bolt circle", "of the circle through the ring bolts", "mm"),
    Asked(
        "crank.length_mm",
        "crank arms",
        "stamped on the inside; 170 is the commonest (common practice, no source)",
        "mm",
        usual=lambda _: 170,
    ),
    Asked("rider.mass_kg", "rider", "dressed to ride", "kg"),
    Asked("rider.bike_kg", "bike", "ready to ride", "kg"),
    Asked("rider.load_kg", "load", "bags and what is in them", "kg"),
    Asked("rider.power_w", "sustained power", "kept up all day", "W"),
)
_BY_KEY: Final = {asked.key: asked for asked in INTAKE}
#: Of these the file has more than one value, or none that a line could hold.
_NOT_ASKED: Final = frozenset({"format", "log"})


def asked_of(setup: Setup, first: tuple[str, ...] = ()) -> tuple[Asked, ...]:
    """All that can be asked of a setup: these keys first, then the intake, then what else a file can say."""
    keys = dict.fromkeys(first) | {asked.key: None for asked in INTAKE if asked.applies(setup)}
    keys |= {key: None for key, _ in facts(setup) if key not in _BY_KEY}
    return tuple(_BY_KEY.get(key) or _plain(key) for key in keys)


def _plain(key: str) -> Asked:
    return Asked(key, key, kind="text" if textual(_field(key).annotation) else "figure")


def textual(annotation: object) -> bool:
    """Whether a fact is text, which stays as it is typed."""
    return annotation is str or any(map(textual, get_args(annotation)))


def _field(key: str) -> FieldInfo:
    model: type[BaseModel] = Setup
    *tables, last = key.split(".")
    for name in tables:
        model = model.model_fields[name].annotation  # type: ignore[assignment]
    return model.model_fields[last]


def facts(section: BaseModel, within: str = "") -> list[tuple[str, Any]]:
    """Every fact with its dotted key, in the order of the file; the format and the log are none."""
    return list(_facts(section, within))


def _facts(section: BaseModel, within: str) -> Iterator[tuple[str, Any]]:
    for name in type(section).model_fields:
        value = getattr(section, name)
        if isinstance(value, BaseModel):
            yield from _facts(value, f"{within}{name}.")
        elif within or name not in _NOT_ASKED:
            yield within + name, value


def given(setup: Setup, key: str) -> Any:
    """What a setup says of a fact; None where it says nothing."""
    value: Any = setup
    for name in key.split("."):
        value = getattr(value, name)
    return value


def typed(value: object) -> str:
    """A value as it would be typed: teeth without brackets.

    >>> typed((30, 46)), typed(435.0), typed(None)
    ('30 46', '435', '')
    """
    if isinstance(value, tuple) and len(value) > 1 and all(isinstance(one, int | float) for one in value):
        return " ".join(map(written, value))
    return written(value)


def said(asked: Asked, value: object) -> str:
    """A value as it is shown, with its unit, and the everyday name of a tyre.

    >>> said(INTAKE[1], "32-630"), said(INTAKE[5], 435.0), said(INTAKE[5], None)
    ('32-630 (27 x 1 1/4)', '435 mm', 'unknown')
    """
    if value is None:
        return "unknown"
    if asked.kind == "tyre" and (name := called(str(value))):
        return f"{value} ({name})"
    text = " ".join(map(str, value)) if asked.kind in {"teeth", "cassette"} else typed(value)  # type: ignore[call-overload]
    return f"{text} {asked.unit}".strip()


def suggested(asked: Asked, setup: Setup) -> str:
    """What to begin with: what the setup says, else what the trade takes."""
    value = given(setup, asked.key)
    return typed(asked.usual(setup) if value is None else value)


def read(asked: Asked, text: str) -> object:
    """The value that a text is: None for one that is not known, `Several` where it can mean more than one.

    Raises InputError, with how to mend it.

    >>> read(INTAKE[1], "700x32C"), read(INTAKE[2], "46/30"), read(INTAKE[5], "43,5 mm"), read(INTAKE[6], "?")
    ('32-622', (30, 46), 43.5, None)
    >>> read(INTAKE[1], "28 inch").sizes, str(read(INTAKE[3], "11-32").cassette)
    (('37-622', '47-622', '40-635'), '11-32')
    """
    if text.strip().lower() in _UNKNOWN:
        if asked.needed:
            raise InputError(Problem("no bike is worked out without it", asked.hint, asked.label))
        return "" if asked.key == "notes" else None
    return _READERS[asked.kind](text.strip(), asked)


def _tyre(text: str, _: Asked) -> object:
    sizes = sizes_called(text)
    return sizes[0] if len(sizes) == 1 else Several(sizes)


def _cassette(text: str, _: Asked) -> object:
    found = cassette_in(text)
    return Several(cassette=found) if isinstance(found, CassetteRange) else found


def _figure(text: str, asked: Asked) -> object:
    """A number, several of them, or yes and no; what is none of these is left for the file's own rules."""
    if text.lower() in _YES_NO:
        return _YES_NO[text.lower()]
    bare = text.removesuffix(asked.unit).strip() if asked.unit else text
    if bare.startswith("[[") or "],[" in bare.replace(" ", ""):
        return _lists(bare)
    words = bare.strip("[]").replace(";", " ").replace(", ", " ").split()
    try:
        found = [_number(word) for word in words]
    except ValueError:
        return text
    return found[0] if len(found) == 1 and "[" not in bare else tuple(found)


def _number(word: str) -> float | int:
    value = number_in(word)
    return int(value) if value.is_integer() and not set(word) & set(".,eE") else value


def _lists(text: str) -> object:
    """Lists in a list, such as carriers."""
    try:
        return tuple(teeth_in(one.strip(" ,[")) for one in text.split("]") if one.strip(" ,["))
    except InputError:
        return text


_READERS: Final[dict[AnswerKind, Callable[[str, Asked], object]]] = {
    "text": lambda text, _: text,
    "tyre": _tyre,
    "teeth": lambda text, _: teeth_in(text),
    "cassette": _cassette,
    "figure": _figure,
}


def edit_of(asked: Asked, value: Any, carriers: tuple[tuple[int, ...], ...] = ()) -> Edit:
    """The edit that gives a setup that value; applying it may raise EditRefused."""
    if asked.kind == "cassette":
        return ReplaceCassette(value, carriers)
    if asked.kind == "teeth":
        return SetSprockets("ring", value)
    return SetField(asked.key, _field(asked.key).default if value is None else value)
