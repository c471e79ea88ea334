"""What can be wrong with what the user gave us, said so that they can mend it."""

from dataclasses import dataclass, replace

from cogwright.core.common.safe_text import clean, shown_name


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong: where it stands, what is wrong and how to mend it. Its text is clean, fit to show."""

    what: str
    mend: str = ""
    key: str = ""
    file: str = ""
    line: int | None = None

    def __post_init__(self) -> None:
        """Much of this text comes out of files."""
        for name in ("what", "mend", "key"):
            object.__setattr__(self, name, clean(getattr(self, name)))
        object.__setattr__(self, "file", shown_name(self.file))

    def at(self, file: str, line: int | None = None) -> "Problem":
        """The same problem, placed in a file."""
        return replace(self, file=file, line=line if line is not None else self.line)

    def __str__(self) -> str:
        """One line, as a compiler writes it.

        >>> str(Problem("5 is too few teeth", "give 6 to 130", "rear.cogs", "a.toml", 7))
        'a.toml:7: rear.cogs: 5 is too few teeth; give 6 to 130'
        """
        place = self.file + (f":{self.line}" if self.line is not None else "")
        return self._after(place)

    def inside(self) -> str:
        """The same where the file is known from what stands around it.

        >>> Problem("5 is too few teeth", "give 6 to 130", "rear.cogs", "a.toml", 7).inside()
        'line 7: rear.cogs: 5 is too few teeth; give 6 to 130'
        """
        return self._after("" if self.line is None else f"line {self.line}")

    def _after(self, place: str) -> str:
        said = f"{self.what}; {self.mend}" if self.mend else self.what
        return ": ".join(part for part in (place, self.key, said) if part)


class CogwrightError(Exception):
    """An error that the user can do something about; its text is for them."""


class InputError(CogwrightError):
    """A file or an argument that cannot be used, with all its problems at once."""

    def __init__(self, *problems: Problem) -> None:
        self.problems = problems
        super().__init__("\n".join(map(str, problems)))


class EditRefused(CogwrightError):
    """An edit that would leave no valid setup; the bench stays as it was."""
