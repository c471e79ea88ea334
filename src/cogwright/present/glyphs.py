"""The characters that views draw with: solid ones, narrow ones for every terminal, and ASCII.

Those of UNICODE are a single cell in any terminal: East Asian Width N or Na (Unicode Standard Annex 11),
never W, F or A (ambiguous). Full blocks and their parts are ambiguous: SOLID is for terminals that draw them
in one cell.
"""

from typing import Final, NamedTuple

#: Fields that hold several characters, for a cell filled more and more.
PARTS: Final = ("ends", "cuts")


class Glyphs(NamedTuple):
    """One set of characters; every field but `name` and those of PARTS is one character a cell.

    `ends` fill the last cell of a bar from the left, the least first; `cuts` do so in the cell in which
    the bar of another gear ended. `step` is a step of the ladder, and its right and left half; `over` the
    same of what is over the limit, `step_over` a cell of which that is the right half.
    """

    name: str
    bar: str
    ends: str
    cuts: str
    base_bar: str
    base_bar_half: str
    lost_bar: str
    step: str
    step_right: str
    step_left: str
    step_over: str
    over: str
    over_right: str
    over_left: str
    rail: str
    grid: str
    gap: str
    mark: str
    rule: str
    upright: str
    needed: str
    jump: str
    wide: str
    tick: str
    cross: str
    bullet: str
    more: str
    thumb: str
    track: str

    @property
    def characters(self) -> str:
        """All of them, for the tests."""
        return "".join(self[1:])

    @property
    def parts(self) -> int:
        """Into how many parts a cell of a bar is divided."""
        return len(self.ends) + 1


UNICODE: Final = Glyphs(
    name="unicode",
    bar="\u28ff",  # braille, all dots
    ends="\u2847",  # braille, left column
    cuts="\u2847",
    base_bar="\u2836",
    base_bar_half="\u2806",
    lost_bar="\u2591",
    step="\u28c0",  # braille, lowest row
    step_right="\u2880",
    step_left="\u2840",
    step_over="\u28f8",
    over="\u28ff",
    over_right="\u28b8",
    over_left="\u2847",
    rail="\u254e",
    grid="\u2575",
    gap="\u254c",
    mark="\u254e",
    rule="\u254c",
    upright="\u254e",
    needed="\u254f",
    jump="\u25b4",
    wide="\u25b5",
    tick="\u2713",
    cross="\u2717",
    bullet="\u25b8",
    more="\u25be",
    thumb="\u28ff",
    track="\u254e",
)
SOLID: Final = UNICODE._replace(
    name="solid",
    bar="\u2588",
    ends="\u258f\u258e\u258d\u258c\u258b\u258a\u2589",  # eighths, from the left
    cuts="\u258f\u258e\u258d\u258c\u258b\u258a\u2589",
    step="\u2584",  # lower half
    step_right="\u2597",
    step_left="\u2596",
    step_over="\u259f",
    over="\u2588",
    over_right="\u2590",
    over_left="\u258c",
    thumb="\u2588",
)
ASCII: Final = Glyphs(
    name="ascii",
    bar="=",
    ends="-",
    cuts="|",
    base_bar=":",
    base_bar_half=".",
    lost_bar=".",
    step="-",
    step_right="-",
    step_left="-",
    step_over="#",
    over="#",
    over_right="#",
    over_left="#",
    rail="|",
    grid="'",
    gap=":",
    mark="|",
    rule="-",
    upright="|",
    needed="I",
    jump="^",
    wide="^",
    tick="+",
    cross="x",
    bullet=">",
    more="v",
    thumb="#",
    track=":",
)


#: Units that ASCII has no signs for; a terminal that draws blocks in one cell does so with these.
SIGNS: Final = {" m2": " m\u00b2", "kg/m3": "kg/m\u00b3", " degrees C": " \u00b0C"}


def with_signs(text: str, glyphs: Glyphs) -> str:
    """Units as they are written where their signs may be.

    >>> with_signs("0.4 m2, 1.2 kg/m3", SOLID), with_signs("0.4 m2", ASCII)
    ('0.4 m\u00b2, 1.2 kg/m\u00b3', '0.4 m2')
    """
    if glyphs.name != SOLID.name:
        return text
    for plain, sign in SIGNS.items():
        text = text.replace(plain, sign)
    return text
