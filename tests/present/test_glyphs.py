"""Every character that is drawn takes one cell in any terminal (Unicode Standard Annex 11)."""

import ast
import unicodedata

import pytest

from cogwright.present.glyphs import ASCII, UNICODE, Glyphs
from support import ROOT

SOURCE = ROOT / "src" / "cogwright"
SETS = [UNICODE, ASCII]
#: What they hold is read from people, files and the terminal, or asks it for its width: none of it is drawn.
READERS = {"safe_text.py", "teeth_lists.py", "tyre_names.py", "cells.py", "width.py"}


@pytest.mark.parametrize("glyphs", SETS, ids=lambda g: g.name)
def test_glyphs_are_narrow_everywhere(glyphs: Glyphs) -> None:
    for char in glyphs.characters:
        assert unicodedata.east_asian_width(char) in {"N", "Na"}, f"{char!r} {unicodedata.name(char)}"
        assert unicodedata.category(char)[0] not in "CZM", f"{char!r}"


@pytest.mark.parametrize("glyphs", SETS, ids=lambda g: g.name)
def test_each_glyph_is_one_character(glyphs: Glyphs) -> None:
    fields = [getattr(glyphs, name) for name in glyphs.__slots__ if name != "name"]
    assert {len(field) for field in fields} == {1}


def test_the_ascii_set_is_ascii() -> None:
    assert ASCII.characters.isascii()


@pytest.mark.parametrize("glyphs", SETS, ids=lambda g: g.name)
def test_states_differ_by_shape_not_by_colour_alone(glyphs: Glyphs) -> None:
    assert len({glyphs.bar, glyphs.base_bar, glyphs.lost_bar}) >= 2
    assert glyphs.bar not in {glyphs.base_bar, glyphs.lost_bar}
    assert len({glyphs.tick, glyphs.cross, glyphs.jump, glyphs.mark}) == 4


def test_no_text_in_the_source_is_wide_or_ambiguous() -> None:
    """What the program says in its own words is drawn too; glyphs stand as escapes in glyphs.py alone."""
    for path in sorted(SOURCE.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Constant) and isinstance(node.value, str) and path.name not in READERS:
                odd = [c for c in node.value if unicodedata.east_asian_width(c) not in {"N", "Na"}]
                assert odd == [], f"{path}, line {node.lineno}"
