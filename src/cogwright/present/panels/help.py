"""Help: what the keys do, and the words that the screen uses."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from cogwright.core.common.safe_text import pad
from cogwright.present.lines import Line, Look, Role, Span, clip, line, opening, width, wrap

WORDS: Final = (
    ("development", "metres travelled for one turn of the cranks"),
    ("step", "how much farther a gear goes than the one below it, in %"),
    ("click", "the step of one click of the rear shifter on the same ring: what the rider feels"),
    (
        "jump",
        "a click over the limit (15 % unless the setup says otherwise) that stands out of the steps around"
        " it, or is half as much again; two marks",
    ),
    ("wide", "a click over the limit that keeps to the steps around it; one mark"),
    ("grinding", "pedalling under the low cadence, in the easiest gear that is ridden"),
    ("spinning out", "the high cadence in the hardest gear, with power to spare: the legs cannot follow"),
    ("overlap", "gears so close that a rider feels no difference, 2.5 % unless the setup says otherwise"),
    ("range", "highest development over lowest, in %: 11-44 on one ring is 400 %"),
    ("baseline", "the setup that the bench is compared with"),
    ("lost", "a gear of the baseline easier or harder than any on the bench"),
    ("no near gear", "a gear of the baseline inside the bench's range that no bench gear comes near"),
    ("riveted", "cogs in ( ) share a carrier: they leave and arrive together"),
    ("capacity", "teeth of slack that a rear derailleur takes up"),
    ("link", "12.7 mm of chain, pin to pin: a chain is counted in them; slack is what a gear leaves over"),
    ("*", "by common practice or an estimate of ours, no source: a maker's limit wins"),
    ("rollout", "development measured on the floor, as scrutineers do"),
)
RULES: Final = (
    (
        "Esc or F10",
        "leaves every list, form, question and page, also where text is typed; q too where none is",
    ),
    (
        "digits",
        "are views; once Left, Right or Tab has picked a sprocket they are its teeth, until anything is done",
    ),
    ("type", "over a suggestion and it is gone; an arrow or Backspace goes into it first"),
)
#: From this width a row of the help names its group.
_GROUPED: Final = 70
CAUTION: Final = (
    "Figures help to choose; the maker's limits decide. A chain that is too short can tear "
    "off a derailleur, one that slips can throw a rider. Have the work checked by a qualified mechanic, and "
    "test it on the stand first."
)


@dataclass(frozen=True, slots=True)
class HelpEntry:
    """One thing in the help: an action with its keys, a rule, a word. `also` are other words for it."""

    group: str
    keys: str
    name: str
    text: str = ""
    also: str = ""
    action: str = ""


def help_entries(actions: Sequence[HelpEntry]) -> tuple[HelpEntry, ...]:
    """All of the help: the caution, what holds everywhere, the actions by group, the words."""
    rules = [HelpEntry("Everywhere", keys, first_words(text), text) for keys, text in RULES]
    words = [HelpEntry("Words", word, first_words(meaning), meaning) for word, meaning in WORDS]
    return (HelpEntry("Caution", "caution", first_words(CAUTION), CAUTION), *rules, *actions, *words)


def first_words(text: str) -> str:
    """The beginning of a sentence, up to its first pause."""
    return re.split(r"[:;,.]", text, maxsplit=1)[0]


def entry_line(entry: HelpEntry, look: Look) -> Line:
    """An entry's row: its group where there is room, its keys or word, its name."""
    group = pad(entry.group, 11) if look.width >= _GROUPED else ""
    head = line(Span(group, Role.DIM), Span(pad(entry.keys, 14), Role.KEY), " ")
    return clip(line(head, opening(entry.name, look.width - width(head))), look.width)


def entry_lines(entry: HelpEntry, look: Look) -> list[Line]:
    """All of an entry, set in lines."""
    named = entry.name if entry.name.endswith("?") else f"{entry.name}."
    said = entry.text if entry.text.startswith(entry.name) else f"{named} {entry.text}".strip()
    return [line(" ", each) for each in wrap(said, look.width - 2, Role.TEXT)]
