"""What each role looks like on the screen: the palettes, the terminal's own sixteen colours, and none."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from rich.color import Color
from rich.style import Style
from textual.theme import Theme

from cogwright.present import palette
from cogwright.present.lines import Role
from cogwright.present.palette import BOLD, Palette


@dataclass(frozen=True, eq=False)
class Colours:
    """A style for every role, and the ground that all stands on."""

    name: str
    ground: Style
    styles: Mapping[Role, Style]
    dark: bool = True
    ansi: bool = False

    def style(self, role: Role) -> Style:
        """The style of a role on the ground."""
        return self.styles.get(role, self.ground)


def _colours(
    name: str, ground: str, roles: Mapping[Role, str], dark: bool = True, ansi: bool = False
) -> Colours:
    base = Style.parse(ground)
    return Colours(name, base, {role: base + Style.parse(text) for role, text in roles.items()}, dark, ansi)


def _painted(name: str, palette: Palette, dark: bool) -> Colours:
    """The colours of a palette; the cursor is the ground's colour on its own."""
    roles = {role: f"{'bold ' * (role in BOLD)}{colour}" for role, colour in palette.colours.items()}
    roles[Role.CURSOR] = f"bold {palette.ground} on {palette.colour(Role.CURSOR)}"
    return _colours(name, f"{palette.ink} on {palette.ground}", roles, dark)


DARK: Final = _painted("dark", palette.DARK, dark=True)
LIGHT: Final = _painted("light", palette.LIGHT, dark=False)
#: The terminal's own sixteen colours on its own ground: light or dark, whatever it is.
OWN: Final = _colours(
    "own",
    "default on default",
    {
        Role.DIM: "default",
        Role.TITLE: "bold",
        Role.KEY: "bold",
        Role.RULE: "default",
        Role.HEAD: "underline",
        Role.BENCH: "blue",
        Role.BENCH_2: "green",
        Role.BENCH_3: "cyan",
        Role.LONGER: "bold",
        Role.BASE: "default",
        Role.BEFORE: "default",
        Role.LOST: "red",
        Role.GAINED: "green",
        Role.OVER: "bold magenta",
        Role.JUMP: "bold magenta reverse",
        Role.OK: "green",
        Role.CAUTION: "bold",
        Role.PROBLEM: "bold red underline",
        Role.CURSOR: "reverse bold",
        Role.SELECTED: "bold reverse",
        Role.MESSAGE: "bold",
    },
    ansi=True,
)
#: No colour at all: weight, underline and reverse only.
MONO: Final = _colours(
    "mono",
    "default on default",
    {
        Role.TITLE: "bold",
        Role.KEY: "bold",
        Role.HEAD: "underline",
        Role.LOST: "default",
        Role.LONGER: "bold",
        Role.OVER: "bold",
        Role.JUMP: "bold reverse",
        Role.CAUTION: "bold",
        Role.PROBLEM: "bold underline",
        Role.CURSOR: "reverse bold",
        Role.SELECTED: "bold reverse",
        Role.MESSAGE: "bold",
    },
    ansi=True,
)
COLOURS: Final = {each.name: each for each in (DARK, LIGHT, OWN, MONO)}


#: Roles that are seen on a blank too, by a ground of their own or an underline.
FILLED: Final = frozenset({Role.CURSOR, Role.SELECTED, Role.JUMP, Role.PROBLEM, Role.HEAD})


def choose(wanted: str | None, environ: Mapping[str, str]) -> Colours:
    """The colours for a terminal: NO_COLOR means none, few colours mean the terminal's own.

    >>> choose(None, {"TERM": "xterm"}).name, choose("light", {"NO_COLOR": "1"}).name
    ('own', 'mono')
    """
    if environ.get("NO_COLOR"):
        return MONO
    if wanted in COLOURS:
        return COLOURS[wanted]
    many = "256color" in environ.get("TERM", "") or environ.get("COLORTERM", "") in {"truecolor", "24bit"}
    return DARK if many else OWN


def ascii_only(environ: Mapping[str, str]) -> bool:
    """Whether the terminal or its locale calls for ASCII: TERM=linux and older, or no UTF-8.

    Under LANG=C Python itself sets LC_CTYPE to C.UTF-8 (PEP 538), which says nothing of the terminal.

    >>> ascii_only({"LANG": "C", "LC_CTYPE": "C.UTF-8"}), ascii_only({"LANG": "en_GB.UTF-8", "TERM": "xterm"})
    (True, False)
    """
    language, ctype = environ.get("LANG", ""), environ.get("LC_CTYPE", "")
    if language in {"", "C", "POSIX"} and ctype in {"C.UTF-8", "C.utf8"}:
        ctype = ""
    locale = (environ.get("LC_ALL") or ctype or language or "C").lower()
    utf8 = "utf-8" in locale or "utf8" in locale
    return not utf8 or environ.get("TERM", "") in {"linux", "vt100", "vt220", "ansi", "cons25"}


def textual_theme(of: Colours) -> Theme:
    """The same colours for the library's own widgets: each role is a variable of its style sheets."""
    ground = _css(of.ground.bgcolor, of)
    return Theme(
        name=of.name,
        primary=_css(of.style(Role.BENCH).color, of),
        warning=_css(of.style(Role.CAUTION).color, of),
        error=_css(of.style(Role.PROBLEM).color, of),
        success=_css(of.style(Role.OK).color, of),
        accent=_css(of.style(Role.KEY).color, of),
        foreground=_css(of.ground.color, of),
        background=ground,
        surface=ground,
        panel=ground,
        dark=of.dark,
        ansi=of.ansi,
        variables=_variables(of),
    )


#: Roles that style sheets name. Each variable costs time at the start.
_NAMED: Final = (Role.TEXT, Role.DIM, Role.KEY, Role.CURSOR, Role.SELECTED)
#: What else the library's parts are made of: the ground, and the bar that scrolls.
_GROUNDS: Final = ("scrollbar-background", "scrollbar-background-hover", "scrollbar-background-active")
_BARS: Final = ("scrollbar", "scrollbar-hover", "scrollbar-active")


def _variables(of: Colours) -> dict[str, str]:
    """`$role-dim`, `$role-dim-ground`, `$role-dim-text` and the like, and those of the library's parts."""
    found: dict[str, str] = {}
    for role in _NAMED:
        style = of.style(role)
        found[f"role-{role}"] = _css(style.color, of)
        found[f"role-{role}-ground"] = _css(style.bgcolor, of)
        found[f"role-{role}-text"] = _text_style(style)
    text, ground = found["role-text"], found["role-text-ground"]
    found |= dict.fromkeys(_BARS, found["role-dim"]) | dict.fromkeys(_GROUNDS, ground)
    found |= {"ansi-background": ground, "ansi-foreground": text} if of.ansi else {}
    found |= {"input-cursor-background": ground, "input-cursor-foreground": text}
    found |= {
        "block-cursor-background": found["role-cursor-ground"],
        "block-cursor-foreground": found["role-cursor"],
    }
    found |= {"block-cursor-text-style": found["role-cursor-text"]}
    return found | {"input-cursor-text-style": "reverse"}


def _css(colour: Color | None, of: Colours) -> str:
    """A colour as style sheets write it."""
    if colour is None or colour.is_default:
        return "ansi_default"
    return f"ansi_{colour.name}" if of.ansi else colour.get_truecolor().hex


def _text_style(style: Style) -> str:
    names = [name for name in ("bold", "underline", "reverse") if getattr(style, name)]
    return " ".join(names) or "none"
