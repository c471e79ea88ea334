"""Help: what the keys do, and the words that the screen uses."""

from collections.abc import Sequence
from itertools import groupby
from typing import Final

from cogwright.core.common.safe_text import pad
from cogwright.present.lines import Line, Look, Role, Span, line, wrap

WORDS: Final = (
    ("development", "metres travelled for one turn of the cranks"),
    ("step", "how much farther a gear goes than the one below it, in %"),
    ("click", "the step of one click of the rear shifter on the same ring: what the rider feels"),
    (
        "jump",
        "a click over the limit, 15 % unless the setup says otherwise; marked twice: half as much again",
    ),
    ("overlap", "gears so close that a rider feels no difference, 2.5 % unless the setup says otherwise"),
    ("range", "highest development over lowest, in %: 11-44 on one ring is 400 %"),
    ("baseline", "the setup that the bench is compared with"),
    ("lost", "a gear of the baseline easier or harder than any on the bench"),
    ("hole", "a gear of the baseline inside the bench's range that no bench gear comes near"),
    ("riveted", "cogs in ( ) share a carrier: they leave and arrive together"),
    ("capacity", "teeth of slack that a rear derailleur takes up"),
    ("pitch", "12.7 mm of chain, pin to pin: a chain is counted in them; slack is what a gear leaves over"),
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
CAUTION: Final = (
    "Figures help to choose; the maker's limits decide. A chain that is too short can tear "
    "off a derailleur, one that slips can throw a rider. Have the work checked by a qualified mechanic, and "
    "test it on the stand first."
)


def help_lines(rows: Sequence[tuple[str, str, str, str]], look: Look) -> list[Line]:
    """The help in lines: keys by group (group, keys, name, explanation), then the words, then the caution."""
    room = look.width - 4
    out: list[Line] = []
    for group, members in groupby(rows, key=lambda row: row[0]):
        out.append((Span(group, Role.HEAD),))
        out += [each for row in members for each in _key_line(row, room)]
        out.append(())
    for title, pairs in (("Everywhere", RULES), ("Words", WORDS)):
        out.append((Span(title, Role.HEAD),))
        out += [each for word, meaning in pairs for each in _hanging(word, meaning, room)]
        out.append(())
    return [*out, (Span("Caution", Role.HEAD),), *wrap(CAUTION, room, Role.CAUTION)]


def _key_line(row: tuple[str, str, str, str], room: int) -> list[Line]:
    _, keys, name, explanation = row
    text = f"{name}. {explanation}" if explanation else f"{name}."
    first, *rest = wrap(text, room - 14)
    return [line(Span(pad(keys, 13), Role.KEY), " ", first), *(line(" " * 14, each) for each in rest)]


def _hanging(word: str, meaning: str, room: int) -> list[Line]:
    first, *rest = wrap(meaning, room - 14)
    return [line(Span(pad(word, 13), Role.KEY), " ", first), *(line(" " * 14, each) for each in rest)]
