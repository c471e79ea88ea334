"""Which function does which action. The modules of this folder fill the table; a test finds it complete."""

from collections.abc import Callable
from importlib import import_module
from typing import Final

from cogwright.app.state.store import SessionStore

Controller = Callable[[SessionStore], None]
CONTROLLERS: Final[dict[str, Controller]] = {}
_MODULES: Final = (
    "baseline",
    "bench",
    "bin_form",
    "booking",
    "candidates",
    "climb",
    "colours",
    "courses",
    "delete",
    "drill",
    "export",
    "facts",
    "files",
    "finding",
    "handout",
    "leaving",
    "new",
    "order",
    "order_to_bin",
    "proposals",
    "put_on",
    "rider",
    "rides",
    "saving",
    "shelf",
    "starting",
    "terminal",
    "views",
)


def does(action: str) -> Callable[[Controller], Controller]:
    """Register a function as what an action does."""

    def register(controller: Controller) -> Controller:
        CONTROLLERS[action] = controller
        return controller

    return register


def load() -> None:
    """Import the modules that fill the table."""
    for name in _MODULES:
        import_module(f"cogwright.app.controllers.{name}")
