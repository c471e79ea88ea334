"""Colours by what they mean, for the screen and for pictures, on a dark and on a light ground.

They start from the palette that M. Okabe and K. Ito published to be told apart by colour-blind eyes (orange
e69f00, sky blue 56b4e9, bluish green 009e73, yellow f0e442, blue 0072b2, vermillion d55e00, reddish purple
cc79a7), moved as far as contrast with the ground asks for, and as far as the bars, the jump and the words of
one row must differ to eyes with deuteranopia, protanopia and tritanopia.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from cogwright.present.lines import Role


@dataclass(frozen=True, eq=False)
class Palette:
    """Ground and ink, a colour for every role that has one of its own, and the roles in bold type."""

    ground: str
    ink: str
    colours: Mapping[Role, str]

    def colour(self, role: Role) -> str:
        """The colour of a role on the ground."""
        return self.colours.get(role, self.ink)


#: Roles in bold type.
BOLD: Final = frozenset({Role.TITLE, Role.KEY, Role.JUMP, Role.PROBLEM, Role.CURSOR, Role.SELECTED})
DARK: Final = Palette(
    "#14171a",
    "#d8d8d0",
    {
        Role.DIM: "#8b9296",
        Role.TITLE: "#f5f5ee",
        Role.SELECTED: "#f5f5ee",
        Role.KEY: "#f0e442",
        Role.CURSOR: "#f0e442",
        Role.RULE: "#4a5257",
        Role.GRID: "#4a5257",
        Role.HEAD: "#9aa3a8",
        Role.BENCH: "#56bfec",
        Role.BENCH_2: "#73ba99",
        Role.BENCH_3: "#d8cf6a",
        Role.LONGER: "#f5f5ee",
        Role.BASE: "#8e72c7",
        Role.BEFORE: "#8e72c7",
        Role.LOST: "#e57327",
        Role.GAINED: "#2fbf8f",
        Role.OVER: "#ff6fc4",
        Role.JUMP: "#ff6fc4",
        Role.OVERLAP: "#a8b0b4",
        Role.OK: "#2fbf8f",
        Role.CAUTION: "#e69f00",
        Role.PROBLEM: "#fc584f",
        Role.UNKNOWN: "#a8b0b4",
        Role.MESSAGE: "#e6dcae",
    },
)
LIGHT: Final = Palette(
    "#faf8f2",
    "#24292c",
    {
        Role.DIM: "#5f676b",
        Role.TITLE: "#101416",
        Role.SELECTED: "#101416",
        Role.KEY: "#4a2d80",
        Role.CURSOR: "#4a2d80",
        Role.RULE: "#b8b5aa",
        Role.GRID: "#b8b5aa",
        Role.HEAD: "#565e62",
        Role.BENCH: "#0076b9",
        Role.BENCH_2: "#036851",
        Role.BENCH_3: "#786832",
        Role.LONGER: "#101416",
        Role.BASE: "#606e8e",
        Role.BEFORE: "#606e8e",
        Role.LOST: "#943000",
        Role.GAINED: "#007255",
        Role.OVER: "#d40388",
        Role.JUMP: "#d40388",
        Role.OVERLAP: "#5f676b",
        Role.OK: "#007255",
        Role.CAUTION: "#a85e00",
        Role.PROBLEM: "#760000",
        Role.UNKNOWN: "#5f676b",
        Role.MESSAGE: "#4a3c00",
    },
)
