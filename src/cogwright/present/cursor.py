"""Which sprocket is chosen: part of what the user has before them, and of what the screen shows."""

from typing import NamedTuple

from cogwright.core.setup.sprockets import Where


class Cursor(NamedTuple):
    """The sprocket that the next key changes."""

    where: Where = "cog"
    teeth: int = 0
