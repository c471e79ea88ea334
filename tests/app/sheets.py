"""Style sheets are parsed once for all apps of a run: they have the same, and it is a sixth of a start."""

from collections import defaultdict
from collections.abc import Mapping
from typing import Any

import pytest
from textual.css.stylesheet import Stylesheet

#: For the variables of a theme, what the library keeps of each sheet that it has parsed.
_PARSED = defaultdict[frozenset[tuple[str, str]], dict[Any, Any]](dict)


def share_parsed_sheets(patch: pytest.MonkeyPatch) -> None:
    """Let each app find what an earlier one of the same theme has parsed."""
    begin, take = Stylesheet.__init__, Stylesheet.set_variables

    def __init__(self: Stylesheet, *, variables: dict[str, str] | None = None) -> None:
        begin(self, variables=variables)
        self._parse_cache = _parsed_with(self._variables)

    def set_variables(self: Stylesheet, variables: dict[str, str]) -> None:
        self._parse_cache = {}  # it is emptied: what others have parsed is not
        take(self, variables)
        self._parse_cache = _parsed_with(variables)

    patch.setattr(Stylesheet, "__init__", __init__)
    patch.setattr(Stylesheet, "set_variables", set_variables)


def _parsed_with(variables: Mapping[str, str]) -> Any:
    return _PARSED[frozenset(variables.items())]
