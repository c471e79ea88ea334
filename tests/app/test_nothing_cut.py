"""At 80x24 nothing that matters is cut: every view, list and form of the demo, row by row."""

from collections.abc import Iterator
from pathlib import Path
from shutil import copytree

import pytest
from test_way_back import OPENING
from without_app import begun, keys

from cogwright.app.layout import frame_of, page_of
from cogwright.app.pickers.scene import row_look
from cogwright.app.state.opened import Form, PickList
from cogwright.app.state.store import SessionStore
from cogwright.app.views import VIEWS
from cogwright.present.lines import Line, Look, plain, width
from cogwright.present.panels.screen import view_look
from support import ROOT, long_cases

BIKES = ("yard-1-first-trial", "yard-3-fell", "yard-7-pass", "yard-8-folder")


@pytest.fixture(scope="module")
def yard(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo."""
    return Path(copytree(ROOT / "setups", tmp_path_factory.mktemp("cut") / "setups"))


def cut(lines: Iterator[Line], room: int) -> list[str]:
    """What ends in the sign of a cut, or is wider than the screen."""
    return [plain(one) for one in lines if plain(one).rstrip().endswith("~") or width(one) > room]


def around(store: SessionStore) -> Iterator[Line]:
    """Head, foot, and what stands open, but for its rows."""
    frame = frame_of(store.session)
    yield from (spot.line for spot in (*frame.head, *frame.foot))
    if frame.drawer is not None:
        yield from (frame.drawer.title, *frame.drawer.head, *(spot.line for spot in frame.drawer.keys))
    if frame.sheet is not None:
        yield from (*frame.sheet.text.rows, frame.sheet.title, *(spot.line for spot in frame.sheet.keys))


@pytest.mark.parametrize("bike", BIKES)
def test_no_view_is_cut(yard: Path, bike: str) -> None:
    store = begun(yard / f"{bike}.toml")
    for view in VIEWS:
        keys(store, str(view.number))
        look = view_look(store.session.room)
        page = page_of(store.session, look)
        assert cut(iter((*page.head, *page.rows)), look.width) == [], view.name
        assert cut(around(store), 80) == [], view.name


@pytest.mark.long(cases=5)
@pytest.mark.parametrize("bike", long_cases(BIKES[:2], 1))
@pytest.mark.parametrize("name", OPENING)
def test_no_list_form_or_question_is_cut(yard: Path, bike: str, name: str) -> None:
    store = begun(yard / f"{bike}.toml")
    keys(store, *OPENING[name])
    assert store.session.over, name
    frame = frame_of(store.session)
    room = row_look(store.session).width
    if frame.drawer is not None and frame.drawer.at is not None:
        assert cut(iter(frame.drawer.rows), room) == []
    for _ in range(12):
        assert cut(around(store), 80) == []
        drawer = frame_of(store.session).drawer
        assert cut(iter(drawer.about if drawer else ()), 80) == []
        if not isinstance(store.session.open, PickList):
            break
        keys(store, "down")


@pytest.mark.long(cases=6)
@pytest.mark.parametrize("name", [*OPENING, "example", "looking"])
def test_on_a_small_screen_titles_chart_and_form_are_in_whole_words(yard: Path, name: str) -> None:
    """At 40x12, the rows of other lists aside: those have columns that give way."""
    more = {"example": ("n", "e", *["down"] * 3), "looking": ("o", "down", "down")}
    store = begun(yard / "yard-1-first-trial.toml", Look(40, 12))
    assert cut(iter(frame_of(store.session).body.seen), 40) == [], "its last row has two gears that are lost"
    keys(store, *(OPENING | more)[name])
    frame = frame_of(store.session)
    seen = [*frame.body.seen, *(spot.line for spot in frame.head)]
    if frame.drawer is not None:
        seen.append(frame.drawer.title)
    if isinstance(store.session.open, Form):
        assert frame.drawer is not None
        seen += frame.drawer.rows
    assert cut(iter(seen), 40) == []


def test_the_order_sheet_has_its_title_whole_on_a_small_screen(yard: Path) -> None:
    store = begun(yard / "yard-1-first-trial.toml", Look(40, 12))
    keys(store, "6")
    page = page_of(store.session, view_look(store.session.room))
    said = " ".join(" ".join(plain(row) for row in (*page.head, *page.rows)).split())
    assert "Order sheet: Yard 1 tourer, first trial with one ring" in said
