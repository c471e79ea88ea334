"""How a cell looks, as the terminal is told it: select graphic rendition (SGR) of ECMA-48, in few bytes."""

from collections.abc import Iterable
from functools import lru_cache
from typing import Final, NamedTuple

#: Attributes: bold, dim, italic, underline, blink, reverse, hidden, strike, and rarer ones.
_ATTRIBUTES: Final = frozenset(map(str, [*range(1, 10), 21, 51, 52, 53]))
#: Those of them that show on a blank cell.
_ON_BLANK: Final = frozenset(map(str, [4, 7, 9, 21, 51, 52, 53]))
_TEXT: Final = frozenset(map(str, [*range(30, 38), 39, *range(90, 98)]))
_GROUND: Final = frozenset(map(str, [*range(40, 48), 49, *range(100, 108)]))
#: What ends an attribute alone.
_END: Final = {"1": "22", "3": "23", "4": "24", "7": "27", "9": "29"}
#: Colours beyond the sixteen: how many parameters follow 38 or 48, by the first of them.
_FOLLOWING: Final = {"5": 2, "2": 4}


class Rendition(NamedTuple):
    """Attributes, colour of the text, colour of the ground: each as parameters of SGR."""

    attributes: str = ""
    text: str = "39"
    ground: str = "49"


#: Of equal renditions there is but one: most of what is compared is the same, which is then seen at once.
_the_one = lru_cache(maxsize=4096)(Rendition)

PLAIN: Final = _the_one("", "39", "49")
#: What turns any rendition into the plain one.
RESET: Final = "\x1b[m"


@lru_cache(maxsize=4096)
def after(was: Rendition, parameters: str) -> Rendition | None:
    """What a rendition becomes by `ESC [ parameters m`; None where that holds something unknown.

    >>> after(PLAIN, "1;38;5;208")
    Rendition(attributes='1', text='38;5;208', ground='49')
    >>> after(PLAIN, "4:3") is None
    True
    """
    attributes, text, ground = set(filter(None, was.attributes.split(";"))), was.text, was.ground
    rest = parameters.split(";")
    while rest:
        code = rest.pop(0)
        if code in ("", "0"):
            attributes, text, ground = set(), PLAIN.text, PLAIN.ground
        elif code in _ATTRIBUTES:
            attributes.add(code)
        elif code in _TEXT:
            text = code
        elif code in _GROUND:
            ground = code
        elif code in ("38", "48") and rest and (count := _FOLLOWING.get(rest[0], 0)) and len(rest) >= count:
            colour = ";".join([code, *rest[:count]])
            text, ground = (colour, ground) if code == "38" else (text, colour)
            del rest[:count]
        else:
            return None
    return _the_one(";".join(sorted(attributes, key=int)), text, ground)


@lru_cache(maxsize=4096)
def on_blank(look: Rendition) -> Rendition:
    """What of a rendition is seen where there is no character.

    >>> on_blank(Rendition("1", "31", "44"))
    Rendition(attributes='', text='39', ground='44')
    """
    if _ON_BLANK.isdisjoint(look.attributes.split(";")):
        return Rendition(ground=look.ground)
    return look


@lru_cache(maxsize=4096)
def blanks_in(look: Rendition, now: Rendition) -> Rendition:
    """What writes blanks that look as in `look` where it is `now`: what is not seen of blanks stays.

    >>> blanks_in(Rendition("1", "31", "44"), Rendition("2", "32", "40"))
    Rendition(attributes='2', text='32', ground='44')
    """
    if on_blank(look) == on_blank(now):
        return now
    shown = on_blank(look).attributes or on_blank(now).attributes
    return look if shown else now._replace(ground=look.ground)


@lru_cache(maxsize=4096)
def change(was: Rendition, now: Rendition) -> str:
    r"""What turns one rendition into another; a reset where attributes have to go and that is shorter.

    >>> change(PLAIN, Rendition("1", "31", "49")), change(Rendition("1", "31", "49"), PLAIN)
    ('\x1b[1;31m', '\x1b[m')
    """
    if now == was:
        return ""
    if now == PLAIN:
        return RESET
    kept, wanted = set(was.attributes.split(";")), now.attributes.split(";")
    gone = kept - {"", *wanted}
    parts = [*(code for code in wanted if code not in kept), *_colours(was, now)]
    if gone:
        anew = ["0", now.attributes, *_colours(PLAIN, now)]
        ways = [anew, [*_ends(gone), *parts]] if _can_end(gone, was) else [anew]
        parts = min(ways, key=lambda codes: len(_select(codes)))
    return _select(parts)


def _select(codes: Iterable[str]) -> str:
    return f"\x1b[{';'.join(filter(None, codes))}m"


def _can_end(gone: set[str], was: Rendition) -> bool:
    """Whether these attributes can be ended alone: bold not beside dim, which would end with it.

    Old terminals know the reset only. One that has shown more than sixteen colours is none of them.
    """
    return (
        gone <= _END.keys()
        and "2" not in was.attributes.split(";")
        and ("8;" in was.text or "8;" in was.ground)
    )


def _ends(gone: set[str]) -> list[str]:
    return sorted(_END[code] for code in gone)


def _colours(was: Rendition, now: Rendition) -> list[str]:
    return [new for new, old in ((now.text, was.text), (now.ground, was.ground)) if new != old]
