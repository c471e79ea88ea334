"""What stands on the screen: what the widgets draw, in the rows of the frame, in characters of one cell."""

import re
import shutil
import unicodedata
from pathlib import Path
from xml.etree import ElementTree

import pytest
from screens import dealt_with, plotted, rows, text, type_keys
from textual.pilot import Pilot

from cogwright.app.layout import frame_of
from cogwright.app.main import BenchApp
from cogwright.app.terminal.messages import Ambiguous, AmbiguousWidth
from cogwright.options import Options
from cogwright.present.lines import ASCII, SOLID, UNICODE, Glyphs
from support import ROOT, long_cases, long_spread

#: A way to each view, list, line, question and text, from the bench and back to it.
WAYS = {
    **{f"view {digit}": (digit, "1") for digit in "123456789"},
    "shelf": ("o", "f10"),
    "baselines": ("b down", "f10"),
    "cassettes": ("c down", "f10"),
    "parts": ("i down", "f10"),
    "bins": ("B", "f10"),
    "courses": ("g", "f10"),
    "rider": ("w down", "q 1"),
    "usual": (f"w {'down ' * 14} enter", "q q 1"),
    "goals": ("p", "q"),
    "limits": ("p l", "q"),
    "facts": ("f c h a i n", "f10"),
    "fact": ("f c h a i n s t a y enter", "f10"),
    "teeth": ("enter", "f10"),
    "name": ("S", "f10"),
    "drill": ("d right", "q"),
    "export": ("e", "q"),
    "help": ("question_mark pagedown", "escape"),
    "keys beside": ("K", "K"),
    "delete": ("D", "q"),
    "new": ("n", "q"),
    "palette": ("colon s a down", "escape"),
    "nothing found": ("colon z z z", "escape"),
    "unsaved": ("down q", "q u"),
}

#: What else there is beside the characters of the views: plots in dots (U+2800 to U+28FF) or half blocks, and
#: powers of units, which are as ambiguous as the blocks.
PLOTTED = {"unicode": "".join(map(chr, range(0x2800, 0x2900))), "solid": "▀▄█²³", "ascii": ""}


@pytest.fixture
def yard(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The demo, and states of its own."""
    for name in ("XDG_STATE_HOME", "XDG_CONFIG_HOME"):
        monkeypatch.setenv(name, str(tmp_path / "state"))
    monkeypatch.setenv("LANG", "C.UTF-8")
    return Path(shutil.copytree(ROOT / "setups", tmp_path / "shelf"))


def drawn(app: BenchApp) -> list[str]:
    """The rows of the screen, read out of the picture that the library makes of it."""
    svg = ElementTree.fromstring(app.export_screenshot(simplify=True))
    found: dict[float, list[tuple[float, str]]] = {}
    for each in svg.iter("{http://www.w3.org/2000/svg}text"):
        if "clip-path" in each.attrib and each.text:
            found.setdefault(float(each.attrib["y"]), []).append((float(each.attrib["x"]), each.text))
    joined = ("".join(part for _, part in sorted(row)) for _, row in sorted(found.items()))
    return [row.replace("\xa0", " ").rstrip() for row in joined]


async def go(pilot: Pilot[int], keys: str) -> None:
    type_keys(pilot.app, *keys.split())
    await dealt_with(pilot.app)
    await pilot.pause()


@pytest.mark.long(cases=2)
@pytest.mark.parametrize("name", ["view 1", "shelf", "help", "delete", "palette", "facts", "unsaved"])
async def test_what_the_widgets_draw_stands_on_the_screen(name: str, yard: Path) -> None:
    """The other tests ask the widgets; here the picture is read, blanks and scroll bars aside."""
    app = BenchApp([yard])
    bars = str.maketrans("", "", SOLID.thumb + SOLID.track)
    async with app.run_test(size=(80, 24)) as pilot:
        await go(pilot, WAYS[name][0])
        asked, picture = ("".join("".join(of).translate(bars).split()) for of in (rows(app), drawn(app)))
        assert asked == picture


def draws_in_one_cell_everywhere(app: BenchApp, glyphs: Glyphs, name: str) -> None:
    """Every character is one that every terminal draws in one cell."""
    seen = set("".join(drawn(app)))
    assert {c for c in seen if not c.isascii()} <= {*glyphs.characters, *PLOTTED[glyphs.name]}, name
    if glyphs is not SOLID:
        assert {unicodedata.east_asian_width(c) for c in seen} <= {"N", "Na"}, name


def takes_the_rows_of_the_frame(app: BenchApp, name: str) -> None:
    """Pages are turned by the frame's figures: they have to be those of the screen."""
    frame = frame_of(app.store.session)
    body = app.screen_stack[0].query_one("#view")
    assert body.region.y == frame.above, name
    assert body.size.height == len(frame.body.seen), name
    taken = frame.above + len(frame.body.seen) + len(frame.foot)
    assert taken + (frame.drawer.height if frame.drawer else 0) == max(app.size.height, taken), name
    if frame.drawer is not None and frame.drawer.room:
        assert app.screen_stack[0].query_one("#drawer-rows").size.height == frame.drawer.room, name
    if frame.sheet is not None:
        assert app.screen.query_one("#sheet-text").size.height == frame.sheet.text.room, name


async def changes_nothing_by_drawing(app: BenchApp, pilot: Pilot[int], folder: Path, name: str) -> None:
    """Neither state nor files."""
    before = app.store.session, sorted(folder.rglob("*"))
    app.refresh(layout=True)
    await pilot.pause()
    assert app.store.session is before[0], name
    assert sorted(folder.rglob("*")) == before[1], name


@pytest.mark.long
@pytest.mark.parametrize("glyphs", long_cases([UNICODE, SOLID, ASCII], 1), ids=lambda glyphs: glyphs.name)
@pytest.mark.parametrize(
    "size", long_cases([(80, 24), (33, 9), (120, 36), (40, 12), (200, 60), (20, 5), (60, 44)], 1)
)
async def test_every_place_draws_what_it_should_where_it_should_and_nothing_else_happens(
    size: tuple[int, int], glyphs: Glyphs, yard: Path
) -> None:
    app = BenchApp([yard], Options(ascii=glyphs is ASCII))
    async with app.run_test(size=size) as pilot:
        if glyphs is UNICODE:
            app.post_message(AmbiguousWidth(Ambiguous.WIDE))
            await pilot.pause()
        await plotted(pilot)
        for name, (there, back) in long_spread([*WAYS.items()], 4):
            await go(pilot, there)
            draws_in_one_cell_everywhere(app, glyphs, name)
            takes_the_rows_of_the_frame(app, name)
            await changes_nothing_by_drawing(app, pilot, yard.parent, name)
            await go(pilot, back)
            assert not app.store.session.over, name


async def test_a_question_leaves_the_bench_in_sight(yard: Path) -> None:
    app = BenchApp([yard])
    async with app.run_test(size=(80, 24)) as pilot:
        await go(pilot, "D")
        assert re.search(r"Delete yard-1-first-trial\.toml\?", text(app))
        assert any(row.startswith(" 36x45 ") for row in drawn(app))


@pytest.mark.long(cases=0)
async def test_the_keys_beside_cut_no_word_however_narrow_they_stand(yard: Path) -> None:
    app = BenchApp([yard], Options(ascii=True))
    async with app.run_test(size=(33, 20)) as pilot:
        await go(pilot, "K")
        at = next(row for row in rows(app) if "Left pick" in row).index("pick")
        told = " ".join(row[at:-1].strip() for row in rows(app))
        assert text(app).isascii()
        assert "pick the sprocke t to the left" in told
