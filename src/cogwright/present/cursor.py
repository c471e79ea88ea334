"""Which sprocket is chosen: part of what the user has before them, and of what the screen shows."""

from dataclasses import dataclass

from cogwright.core.setup.edits import Where


@dataclass(frozen=True, slots=True)
class Cursor:
    """The sprocket that the next key changes."""

    where: Where = "cog"
    teeth: int = 0
