"""Every character that is drawn takes one cell in any terminal (Unicode Standard Annex 11)."""

import ast
import unicodedata

import pytest

from cogwright.present.glyphs import ASCII, PARTS, SIGNS, SOLID, UNICODE, Glyphs
from house.sources import MODULES, SOURCE, nodes

SETS = [UNICODE, ASCII]
ALL = [SOLID, *SETS]
#: What they hold is read from people, files and the terminal, or asks it for its width: none of it is drawn.
READERS = {"safe_text.py", "teeth_lists.py", "tyre_names.py", "cells.py", "width.py"}


@pytest.mark.parametrize("glyphs", SETS, ids=lambda g: g.name)
def test_glyphs_are_narrow_everywhere(glyphs: Glyphs) -> None:
    for char in glyphs.characters:
        assert unicodedata.east_asian_width(char) in {"N", "Na"}, f"{char!r} {unicodedata.name(char)}"
        assert unicodedata.category(char)[0] not in "CZM", f"{char!r}"


def test_solid_glyphs_are_narrow_or_ambiguous_blocks() -> None:
    """Those that may take two cells are asked for at the start: a block stands for all of them."""
    odd = {c for c in SOLID.characters if unicodedata.east_asian_width(c) not in {"N", "Na"}}
    assert {unicodedata.east_asian_width(c) for c in odd} == {"A"}
    assert all("BLOCK" in unicodedata.name(c) for c in odd)


@pytest.mark.parametrize("glyphs", ALL, ids=lambda g: g.name)
def test_each_glyph_is_one_character(glyphs: Glyphs) -> None:
    fields = [text for name, text in glyphs._asdict().items() if name not in {"name", *PARTS}]
    assert {len(field) for field in fields} == {1}


@pytest.mark.parametrize("glyphs", ALL, ids=lambda g: g.name)
def test_a_cell_has_as_many_parts_as_can_be_drawn(glyphs: Glyphs) -> None:
    assert len(glyphs.ends) == len(glyphs.cuts) == glyphs.parts - 1
    assert glyphs.parts == (8 if glyphs is SOLID else 2)


def test_the_ascii_set_is_ascii() -> None:
    assert ASCII.characters.isascii()


@pytest.mark.parametrize("glyphs", SETS, ids=lambda g: g.name)
def test_states_differ_by_shape_not_by_colour_alone(glyphs: Glyphs) -> None:
    assert len({glyphs.bar, glyphs.base_bar, glyphs.lost_bar}) >= 2
    assert glyphs.bar not in {glyphs.base_bar, glyphs.lost_bar}
    assert len({glyphs.tick, glyphs.cross, glyphs.jump, glyphs.mark}) == 4


def test_no_text_in_the_source_is_wide_or_ambiguous() -> None:
    """What the program says in its own words is drawn too; glyphs stand as escapes in glyphs.py alone."""
    drawings = SOURCE / "present" / "picture"  # no terminal draws them
    for path in (path for path in MODULES if path.parent != drawings):
        for node in nodes(path):
            if isinstance(node, ast.Constant) and isinstance(node.value, str) and path.name not in READERS:
                known = SOLID.characters + "".join(SIGNS.values()) if path.name == "glyphs.py" else ""
                odd = [c for c in node.value if unicodedata.east_asian_width(c) not in {"N", "Na"}]
                odd = [c for c in odd if c not in known]
                assert odd == [], f"{path}, line {node.lineno}"
