"""Modules that are imported only when something of them is used, although others name them at once."""

import sys
from collections.abc import Callable
from importlib import import_module
from types import ModuleType
from typing import Any


def put_off(name: str, *functions: str) -> None:
    """Let a module wait until it is used, and those functions of it that others take out before.

    For what a library imports and we do not use. Asked for anything else (PEP 562) it is imported. A class
    may stand among the functions where others only name it.

    >>> put_off("this_is_nowhere", "f")
    >>> from this_is_nowhere import f
    >>> f()
    Traceback (most recent call last):
    ModuleNotFoundError: No module named 'this_is_nowhere'
    """
    if name in sys.modules:
        return
    waiting = ModuleType(name)

    def found(attribute: str) -> Any:
        if attribute.startswith("__"):  # what the import itself asks for
            raise AttributeError(attribute)
        if sys.modules.get(name) is waiting:
            del sys.modules[name]
        return getattr(import_module(name), attribute)

    def standing_for(function: str) -> Callable[..., Any]:
        def used(*args: Any, **keywords: Any) -> Any:
            return found(function)(*args, **keywords)

        return used

    vars(waiting).update({"__getattr__": found, **{one: standing_for(one) for one in functions}})
    sys.modules[name] = waiting
