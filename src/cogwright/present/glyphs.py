"""The characters that views draw with, in Unicode and in ASCII.

Every Unicode one is a single cell in any terminal: East Asian Width N or Na (Unicode Standard Annex 11),
never W, F or A (ambiguous); full blocks, box lines, arrows and the multiplication sign are ambiguous.
"""

from dataclasses import dataclass, fields
from typing import Final


@dataclass(frozen=True, slots=True)
class Glyphs:
    """One set of characters; every field but `name` is one character a cell."""

    name: str
    bar: str
    bar_half: str
    base_bar: str
    base_bar_half: str
    lost_bar: str
    mark: str
    rule: str
    upright: str
    jump: str
    tick: str
    cross: str
    bullet: str
    more: str
    thumb: str
    track: str

    @property
    def characters(self) -> str:
        """All of them, for the tests."""
        return "".join(getattr(self, field.name) for field in fields(self) if field.name != "name")


UNICODE: Final = Glyphs(
    name="unicode",
    bar="\u28ff",  # braille, all dots
    bar_half="\u2847",  # braille, left column
    base_bar="\u2836",
    base_bar_half="\u2806",
    lost_bar="\u2591",
    mark="\u254e",
    rule="\u254c",
    upright="\u254e",
    jump="\u25b4",
    tick="\u2713",
    cross="\u2717",
    bullet="\u25b8",
    more="\u25be",
    thumb="\u28ff",
    track="\u254e",
)
ASCII: Final = Glyphs(
    name="ascii",
    bar="=",
    bar_half="-",
    base_bar=":",
    base_bar_half=".",
    lost_bar=".",
    mark="|",
    rule="-",
    upright="|",
    jump="^",
    tick="+",
    cross="x",
    bullet=">",
    more="v",
    thumb="#",
    track=":",
)
