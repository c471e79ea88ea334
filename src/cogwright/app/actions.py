"""The one registry of actions: bindings, foot, palette, help and the key file are all made from it."""

from collections.abc import Mapping
from typing import Final, NamedTuple

from cogwright.app.synonyms import ALSO
from cogwright.app.views import VIEW, VIEWS
from cogwright.present.panels.foot import FootKey


class Action(NamedTuple):
    """Something the user can do. `keys` are Textual key names; `short` stands in the foot.

    `also` are words that people have for it: the list of all actions finds it by them.
    """

    id: str
    keys: tuple[str, ...]
    name: str
    help: str
    group: str
    short: str = ""
    also: str = ""

    def called(self, typed: str) -> bool:
        """Whether a word that was typed is one that people have for it, or the beginning of one."""
        words = self.also.split()
        return bool(typed) and all(any(w.startswith(each) for w in words) for each in typed.lower().split())


_BENCH, _GEARS, _FILES, _VIEWS, _MORE = "Bench", "Baseline", "Files", "Views", "More"


_REGISTRY: Final[tuple[Action, ...]] = (
    Action(
        "pick-left", ("left",), "pick the sprocket to the left", "Moves along the rings and cogs.", _BENCH
    ),
    Action(
        "pick-right", ("right",), "pick the sprocket to the right", "Moves along the rings and cogs.", _BENCH
    ),
    Action(
        "pick-other", ("tab",), "go from rings to cogs and back", "Rings are in front, cogs behind.", _BENCH
    ),
    Action("teeth-up", ("up", "plus"), "next larger tooth count", "Swaps the chosen sprocket.", _BENCH),
    Action("teeth-down", ("down", "minus"), "next smaller tooth count", "Swaps the chosen sprocket.", _BENCH),
    Action(
        "type-teeth",
        ("enter",),
        "type a tooth count",
        "6 to 130 teeth. In the Fit view: the fact that a check lacks.",
        _BENCH,
    ),
    Action("add", ("a",), "add a ring or cog", "Beside the chosen one; type its teeth.", _BENCH, "add"),
    Action("remove", ("x", "delete"), "take the ring or cog off", "u brings it back.", _BENCH, "remove"),
    Action(
        "cassette", ("c",), "put another cassette on", "From any setup of the folder or a parts bin.", _BENCH
    ),
    Action("part", ("i",), "put a part of the parts bin on", "What does not fit says why.", _BENCH),
    Action("bin", ("B",), "choose the parts bin", "For parts, prices and the order.", _BENCH, "bin"),
    Action(
        "book",
        ("L",),
        "book the work of the order",
        "Parts on, out of the bin, into the log; u undoes.",
        _BENCH,
        "book",
    ),
    Action(
        "bin-parts",
        ("I",),
        "change the parts bin",
        "Parts, prices and counts, put in and out.",
        _BENCH,
        "prices",
    ),
    Action(
        "type-price",
        ("M",),
        "type a price, mass or wait",
        "What an order does not know; kept in the bin.",
        _BENCH,
        "price",
    ),
    Action(
        "proposals",
        ("p",),
        "what should I change?",
        "More even steps, a single ring, a plan within limits.",
        _BENCH,
        "proposals",
    ),
    Action(
        "climb",
        ("h",),
        "which gear for a hill?",
        "Grade, load and cadence give the development; kits that reach it.",
        _BENCH,
        "hill",
    ),
    Action("undo", ("u",), "undo", "As far back as the session goes.", _BENCH, "undo"),
    Action("redo", ("r",), "redo", "What was undone.", _BENCH),
    Action(
        "facts",
        ("F",),
        "the facts of the bike, one after another",
        "Wheel, chain, frame, derailleurs, rider.",
        _BENCH,
        "facts",
    ),
    Action(
        "edit-fact",
        ("f",),
        "find a fact of the bike and set it",
        "By its name, of all that a file can say.",
        _BENCH,
    ),
    Action("baseline", ("b",), "choose the baseline", "What the bench is compared with.", _GEARS, "baseline"),
    Action(
        "baseline-mode",
        ("v",),
        "show the baseline another way",
        "In each row, what is lost, both in full, bench alone.",
        _GEARS,
    ),
    Action(
        "keep", ("C",), "keep the bench as a candidate", "Up to six, each under a letter.", _GEARS, "keep"
    ),
    Action(
        "next-candidate",
        ("right_parenthesis",),
        "next candidate onto the bench",
        "u brings back.",
        _GEARS,
        "next",
    ),
    Action(
        "previous-candidate",
        ("left_parenthesis",),
        "candidate before onto the bench",
        "u brings back.",
        _GEARS,
    ),
    Action("candidates", ("A",), "list the candidates", "To look at, save or drop them.", _GEARS, "list"),
    Action(
        "open", ("o",), "open the shelf of setups", "Every setup of the folder on one scale.", _FILES, "open"
    ),
    Action("open-folder", ("E",), "open another folder", "Its setups, bins and courses.", _FILES),
    Action("save", ("s",), "save", "The version before is kept beside it.", _FILES, "save"),
    Action("save-as", ("S",), "save under another name", "In the same folder.", _FILES),
    Action("rename", ("N",), "rename the setup", "The file keeps its name.", _FILES),
    Action("new", ("n",), "new setup, or a copy of this one", "It has no file until you save it.", _FILES),
    Action("delete-file", ("D",), "delete the setup file", "Asks first; a copy is kept.", _FILES),
    Action("reload", ("R",), "read the file again", "Drops what is not saved, after asking.", _FILES),
    Action("export", ("e",), "export the view or the chart", "Text, or a drawing (SVG).", _FILES),
    Action(
        "hand-out",
        ("H",),
        "hand-out for the rider",
        "One page to read here, or as a file.",
        _FILES,
        "hand-out",
    ),
    *(Action(f"view-{view.number}", (str(view.number),), view.name, view.help, _VIEWS) for view in VIEWS),
    Action("drawing", ("l",), "Gears: bars or ladder", "A ladder shows each step alone.", _VIEWS, "ladder"),
    Action("scale", ("z",), "Gears: logarithmic or linear scale", "Equal steps, or equal metres.", _VIEWS),
    Action("row-order", ("y",), "Gears: rows by size or ring by ring", "A click is on one ring.", _VIEWS),
    Action("axis", ("m",), "Gears: axis in metres or km/h", "At the preferred cadence.", _VIEWS),
    Action("page-down", ("pagedown", "space"), "scroll down", "A page of the view.", _VIEWS),
    Action("page-up", ("pageup",), "scroll up", "A page of the view.", _VIEWS),
    Action("line-down", ("j",), "scroll a line down", "", _VIEWS),
    Action("line-up", ("k",), "scroll a line up", "", _VIEWS),
    Action("top", ("home",), "to the easiest gear", "The top of the view.", _VIEWS),
    Action("bottom", ("end",), "to the hardest gear", "The end of the view.", _VIEWS),
    Action("sort", ("greater_than_sign",), "Figures: sort by the next column", "", _VIEWS, "sort"),
    Action("sort-back", ("less_than_sign",), "Figures: sort by the column before", "", _VIEWS),
    Action("sort-turn", ("full_stop",), "Figures: turn the order round", "", _VIEWS),
    Action(
        "course",
        ("g",),
        "choose a course to ride",
        "From the folder courses: TOML, CSV, GPX, TCX, FIT.",
        _MORE,
        "course",
    ),
    Action(
        "rides",
        ("G",),
        "choose recorded rides",
        "FIT, TCX, GPX or CSV: which gears were used.",
        _MORE,
        "rides",
    ),
    Action(
        "rider", ("w",), "edit rider and road", "Mass, power, cadences, position, surface.", _MORE, "rider"
    ),
    Action(
        "drill", ("d",), "drill the shifting", "The program calls, you shift; it keeps score.", _MORE, "drill"
    ),
    Action("copy", ("ctrl+c",), "copy what is marked", "Marked with the mouse; quits if nothing is.", _MORE),
    Action("suspend", ("ctrl+z",), "back to the shell for a while", "fg brings it back.", _MORE),
    Action("theme", ("t",), "change the colours", "Dark, light, the terminal's own, none.", _MORE),
    Action("palette", ("colon", "ctrl+p"), "find an action", "All of them by name.", _MORE),
    Action("repaint", ("ctrl+l",), "draw the screen anew", "After something else wrote on it.", _MORE),
    Action("keys", ("K",), "list the keys beside the bench", "And away again.", _MORE),
    Action("help", ("question_mark", "f1"), "help", "Keys and words.", _MORE, "help"),
    Action("quit", ("q", "ctrl+q"), "quit", "Asks if something is not saved.", _MORE, "quit"),
)

ACTIONS: Final = tuple(action._replace(also=ALSO.get(action.id, "")) for action in _REGISTRY)

BY_ID: Final = {action.id: action for action in ACTIONS}
#: Keys by action.
Keymap = dict[str, tuple[str, ...]]


def default_keymap() -> Keymap:
    """The keys of the registry."""
    return {action.id: action.keys for action in ACTIONS}


_SHOWN: Final = {
    "left": "Left",
    "right": "Right",
    "up": "Up",
    "down": "Down",
    "plus": "+",
    "minus": "-",
    "greater_than_sign": ">",
    "less_than_sign": "<",
    "full_stop": ".",
    "left_parenthesis": "(",
    "right_parenthesis": ")",
    "question_mark": "?",
    "colon": ":",
    "pagedown": "PgDn",
    "pageup": "PgUp",
}


def key_name(key: str) -> str:
    """How a key is written for people.

    >>> key_name("question_mark"), key_name("ctrl+p"), key_name("f1"), key_name("a")
    ('?', 'Ctrl+P', 'F1', 'a')
    """
    if key in _SHOWN:
        return _SHOWN[key]
    if len(key) == 1:
        return key
    return "+".join(part.title() for part in key.split("+"))


#: What stands in the foot, the most needed first; the last two always do.
FOOT: Final = ("save", "undo", "baseline", "open", "proposals", "drawing", "add", "remove", "help", "quit")


def foot_keys(keymap: Mapping[str, tuple[str, ...]], view: int = 1, picked: bool = False) -> list[FootKey]:
    """The foot: arrows, digits where they are teeth, the view's own actions, then those of FOOT."""
    shown = [BY_ID[id] for id in (*VIEW[view].keys, *FOOT) if keymap[id]]
    digits = (FootKey("0-9", "teeth"), FootKey("Esc", "views")) if picked else ()
    return [
        FootKey("arrows", "swap"),
        *digits,
        *(FootKey(key_name(keymap[action.id][0]), action.short, action.id) for action in shown),
    ]
