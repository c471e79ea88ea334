"""Candidates of a piece of work: benches that were kept as they stood, each under a letter. Immutable."""

from dataclasses import dataclass, replace
from typing import NamedTuple, Self

from cogwright.core.comparing.naming import LETTERS
from cogwright.core.setup.model import Setup


class Candidate(NamedTuple):
    """A bench that was kept; `saved_as` is the file that it was saved in, if it was."""

    letter: str
    setup: Setup
    saved_as: str = ""


@dataclass(frozen=True, slots=True)
class Candidates:
    """Up to six of them; a letter stays with its candidate."""

    kept: tuple[Candidate, ...] = ()

    @property
    def full(self) -> bool:
        """Whether there is no letter left."""
        return len(self.kept) == len(LETTERS)

    @property
    def unsaved(self) -> tuple[Candidate, ...]:
        """Those that no file has."""
        return tuple(one for one in self.kept if not one.saved_as)

    @property
    def setups(self) -> tuple[Setup, ...]:
        """What was kept, in the order of the letters."""
        return tuple(one.setup for one in self.kept)

    def of(self, setup: Setup) -> Candidate | None:
        """The candidate that a bench is, whatever its name; None if it is none."""
        return next((one for one in self.kept if _bare(one.setup) == _bare(setup)), None)

    def adding(self, setup: Setup) -> Self:
        """With one more under the first free letter; the same when it is there already, or there are six."""
        if self.full or self.of(setup) is not None:
            return self
        letter = next(each for each in LETTERS if all(one.letter != each for one in self.kept))
        kept = sorted((*self.kept, Candidate(letter, setup)), key=lambda one: one.letter)
        return replace(self, kept=tuple(kept))

    def dropping(self, letter: str) -> Self:
        """Without that one."""
        return replace(self, kept=tuple(one for one in self.kept if one.letter != letter))

    def saved(self, letter: str, file: str) -> Self:
        """With that one known to be in a file."""
        kept = (one._replace(saved_as=file) if one.letter == letter else one for one in self.kept)
        return replace(self, kept=tuple(kept))

    def saved_with(self, setup: Setup, file: str) -> Self:
        """The same once a bench has been saved: if it is one of them that one is in the file too."""
        one = self.of(setup)
        return self if one is None or one.saved_as else self.saved(one.letter, file)

    def beside(self, setup: Setup, by: int) -> Candidate | None:
        """The next one on, from the bench's own place; None where there is none."""
        if not self.kept:
            return None
        here = self.of(setup)
        at = self.kept.index(here) + by if here else (0 if by > 0 else -1)
        return self.kept[at % len(self.kept)]


def _bare(setup: Setup) -> Setup:
    """A setup without what it is called and compared with."""
    return setup.model_copy(update={"name": "", "notes": "", "baseline": None, "baseline_name": None})
