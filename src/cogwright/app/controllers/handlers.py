"""Which function does which action. The modules `do_*` fill the table; a test finds it complete."""

from collections.abc import Callable
from importlib import import_module
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from cogwright.app.main import BenchApp

Handler = Callable[["BenchApp"], None]
HANDLERS: Final[dict[str, Handler]] = {}
_MODULES: Final = (
    "bench",
    "views",
    "parts",
    "ride",
    "proposals",
    "files",
    "delete",
    "shelf",
    "export",
    "more",
)


def does(action: str) -> Callable[[Handler], Handler]:
    """Register a function as what an action does."""

    def register(handler: Handler) -> Handler:
        HANDLERS[action] = handler
        return handler

    return register


def load() -> None:
    """Import the modules that fill the table."""
    for name in _MODULES:
        import_module(f"cogwright.app.controllers.{name}")
