"""What the values of a file may be: teeth, names, numbers with bounds; and `Section`, a table of them."""

from collections import Counter
from collections.abc import Callable
from functools import cache
from typing import Annotated, Any, Final, LiteralString

from pydantic import AfterValidator, BaseModel, ConfigDict, Field, PlainValidator, StrictBool
from pydantic_core import PydanticCustomError

from cogwright.core.common.safe_text import clean
from cogwright.core.setup.bounds import number, text
from cogwright.core.setup.sizes import parse_size
from cogwright.core.setup.tyre_names import marking_words

MIN_TEETH: Final = 6
MAX_TEETH: Final = 130
MAX_SPROCKETS: Final = 30
#: The kind of an error that says that none of several facts was given.
NOTHING_GIVEN: Final = "nothing_given"


def problem(what: str, mend: str, kind: LiteralString = "cogwright") -> PydanticCustomError:
    """A validation error that says what is wrong and how to mend it."""
    return PydanticCustomError(kind, "{what}", {"what": what, "mend": mend})


def _once(teeth: tuple[int, ...]) -> tuple[int, ...]:
    twice = sorted(n for n, count in Counter(teeth).items() if count > 1)
    if twice:
        named = ", ".join(map(str, twice))
        raise problem(f"{named} teeth stand there more than once", "name every sprocket once")
    return tuple(sorted(teeth))


def _carrier(teeth: tuple[int, ...]) -> tuple[int, ...]:
    if len(teeth) < 2:
        raise problem("a carrier of fewer than two cogs", "leave a loose cog out of carriers")
    return _once(teeth)


def _size(text: str) -> str:
    if parse_size(text) is None:
        raise problem(f"{clean(text)[:20]!r} is not a tyre marking", marking_words(text))
    return text.replace(" ", "")


def _name(text: str) -> str:
    name = clean(text).strip()
    if not name:
        raise problem("nothing that can be seen is left of the text", "write some letters")
    if len(name) > 200:
        raise problem("the text is too long", "use 200 characters at most")
    return name


def _notes(text: str) -> str:
    return clean(text, keep_newlines=True)


def band(pair: tuple[float, float]) -> tuple[float, float]:
    """A least and a greatest number, as given; an error when they stand the wrong way round."""
    if pair[0] > pair[1]:
        raise problem("the greatest stands before the least", f"write [{pair[1]:g}, {pair[0]:g}]")
    return pair


def _setup_path(text: str) -> str:
    if clean(text) != text or "\\" in text or not text.endswith(".toml") or text[0] in "/~" or ":" in text:
        raise problem(
            f"{clean(text)[:40]!r} is not the path of a setup file",
            'name a file of the same folder, such as "yard-1-two-rings.toml", or one by its way from there',
        )
    return text


Teeth = Annotated[int, number(MIN_TEETH, MAX_TEETH)]
Sprockets = Annotated[tuple[Teeth, ...], Field(min_length=1, max_length=MAX_SPROCKETS), AfterValidator(_once)]
Carrier = Annotated[tuple[Teeth, ...], AfterValidator(_carrier)]
Name = Annotated[str, text(1, 200, _name)]
Notes = Annotated[str, text(0, 20_000, _notes)]
SetupPath = Annotated[str, text(6, 1000, _setup_path)]
Size = Annotated[str, text(0, 40, _size)]

#: True or false, and nothing that only stands for it.
Flag = StrictBool


def said(words: str) -> Any:
    """What is to be known of a key where it is typed, for `Annotated`."""
    return Field(description=words)


def one_or_more(low: float, high: float, whole: bool = False) -> Any:
    """One finite number within bounds, or a list of up to `MAX_SPROCKETS` such, for `Annotated`."""
    kind: Any = Annotated[int if whole else float, number(low, high)]
    return PlainValidator(_one_or_more(low, high, whole), json_schema_input_type=kind)


def _one_or_more(low: float, high: float, whole: bool) -> Callable[[object], object]:
    kind = "whole number" if whole else "number"
    mend = f"give a {kind} from {low:g} to {high:g}, or a list of such in [brackets]"

    def one(value: object) -> float | int:
        if isinstance(value, bool) or not isinstance(value, int if whole else int | float):
            raise problem(f"{clean(str(value))[:30]} is not a {kind}", mend)
        if not low <= value <= high:
            raise problem(f"{value:g} is not from {low:g} to {high:g}", mend)
        return value if whole else float(value)

    def check(value: object) -> object:
        if not isinstance(value, list | tuple):
            return one(value)
        if not 1 <= len(value) <= MAX_SPROCKETS:
            raise problem(f"{len(value)} numbers stand in the list", f"give 1 to {MAX_SPROCKETS}")
        return tuple(map(one, value))

    return check


class Section(BaseModel):
    """A table of a file: immutable, and an unknown key in it is an error."""

    # What checks a table is made when it is first needed: the first frame waits for every import. So defaults
    # are made with `model_construct`, which needs no checks.
    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)

    @property
    def given(self) -> bool:
        """Whether it says anything: where not, the bike has no such thing, or nobody has looked."""
        return self != _untouched(type(self))


@cache
def _untouched(kind: type[Section]) -> Section:
    return kind.model_construct()
