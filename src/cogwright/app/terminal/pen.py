"""Writes styled text in few bytes: of a style only what differs from the one before is sent."""

from dataclasses import dataclass
from functools import lru_cache
from typing import Final, NamedTuple

from rich.color import Color, ColorSystem
from rich.style import Style

#: Select graphic rendition of ECMA-48 (SGR): attributes by their names in rich.
ATTRIBUTES: Final = {
    "bold": "1",
    "dim": "2",
    "italic": "3",
    "underline": "4",
    "blink": "5",
    "reverse": "7",
    "strike": "9",
}


class Look(NamedTuple):
    """A style as the parameters of SGR: attributes, colour of the text and of the ground."""

    attributes: str = ""
    text: str = "39"
    ground: str = "49"


PLAIN: Final = Look()


@dataclass
class Pen:
    """Knows the look that the terminal writes in now."""

    system: ColorSystem
    now: Look = PLAIN

    def write(self, text: str, style: Style | None) -> str:
        """The text, after what changes the terminal's look into the style."""
        return self._change(look_of(style, self.system) if style else PLAIN) + text

    def lift(self) -> str:
        """What brings the plain look back."""
        return self._change(PLAIN)

    def _change(self, look: Look) -> str:
        was, self.now = self.now, look
        if look == was:
            return ""
        if look == PLAIN:
            return "\x1b[m"
        if look.attributes != was.attributes:
            parts = ["0", look.attributes, *_differ(look, PLAIN)]
        else:
            parts = _differ(look, was)
        return f"\x1b[{';'.join(filter(None, parts))}m"


def _differ(look: Look, was: Look) -> list[str]:
    """The colours that are not as they were."""
    return [new for new, old in ((look.text, was.text), (look.ground, was.ground)) if new != old]


@lru_cache(maxsize=512)
def look_of(style: Style, system: ColorSystem) -> Look:
    """A style as SGR parameters, in the colours that the terminal has."""
    attributes = ";".join(code for name, code in ATTRIBUTES.items() if getattr(style, name))
    return Look(attributes, _colour(style.color, system, True), _colour(style.bgcolor, system, False))


def _colour(colour: Color | None, system: ColorSystem, text: bool) -> str:
    if colour is None:
        return PLAIN.text if text else PLAIN.ground
    return ";".join(colour.downgrade(system).get_ansi_codes(foreground=text))
