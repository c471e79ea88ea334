"""Drawing shows a session and does nothing else: it changes no state, asks for nothing, writes no file."""

from collections.abc import Iterator
from pathlib import Path
from shutil import copytree
from typing import Any

import pytest
from textual.app import App, ComposeResult

from cogwright.app.actions import default_keymap
from cogwright.app.colours import DARK, MONO, textual_theme
from cogwright.app.controllers import registry
from cogwright.app.drawer import DrawerWidgets
from cogwright.app.drawing import CSS, BenchWidgets
from cogwright.app.layout import frame_of
from cogwright.app.pointing import BenchPointing, DrawerPointing
from cogwright.app.router import press
from cogwright.app.state.beginning import first_beginning
from cogwright.app.state.opened import Typed
from cogwright.app.state.session import Session
from cogwright.app.state.store import SessionStore
from cogwright.app.widgets.drawn import PlainScreen
from cogwright.options import Options
from cogwright.present.lines import ASCII, UNICODE, Look
from support import ROOT, long_spread

#: From here to there: views, lists, lines to type, questions, texts, and back.
BACK = "f10"
WALK = ["2", "3", "end", "1", "b", "end", "up", BACK, "N", BACK, "o", "down", BACK, "down", "q", BACK]
WALK += [
    "w",
    "down",
    "enter",
    BACK,
    BACK,
    "question_mark",
    "end",
    BACK,
    "d",
    "right",
    BACK,
    "4",
    "5",
    "6",
    "u",
]


class Typing:
    """A line for text at which nobody types."""

    def press(self, typed: Typed, key: str, character: str | None) -> None: ...

    def paste(self, typed: Typed, text: str) -> None: ...


class Shown(App[None]):
    """The widgets of bench and drawer, and nothing that listens to keys."""

    CSS = CSS

    def __init__(self, store: SessionStore, asked: list[object]) -> None:
        super().__init__(ansi_color=True)
        for each in (DARK, MONO):
            self.register_theme(textual_theme(each))
        self.theme = DARK.name
        self.bench = BenchWidgets(BenchPointing(store, asked.append))
        self.drawer = DrawerWidgets(DrawerPointing(store, asked.append))

    def get_default_screen(self) -> PlainScreen:
        return PlainScreen(id="_default")

    def compose(self) -> ComposeResult:
        yield from self.bench.compose()
        yield from self.drawer.all()

    def draw(self, session: Session) -> None:
        frame, colours = frame_of(session), DARK if session.room.glyphs is UNICODE else MONO
        self.bench.show(frame, session.view, session.room, colours)
        self.drawer.show(frame, session.room, colours)


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    for name in ("XDG_STATE_HOME", "XDG_CONFIG_HOME"):
        monkeypatch.setenv(name, str(tmp_path / "state"))
    monkeypatch.chdir(tmp_path)
    return Path(copytree(ROOT / "setups", tmp_path / "shelf"))


def sessions(folder: Path) -> Iterator[Session]:
    """What is seen on the walk, high and low, in Unicode and ASCII."""
    registry.load()
    where, begun = first_beginning([folder], Options())
    for width, height, glyphs in ((80, 24, UNICODE), (40, 12, ASCII)):
        room = Look(width=width, height=height, glyphs=glyphs)
        nowhere: Any = object()  # a host that would fail whatever it is asked for
        store = SessionStore(Session(begun.work, where, room=room, keymap=default_keymap()), nowhere)
        for key in WALK:
            press(store, Typing(), key, None)
            yield store.session


def files(folder: Path) -> dict[Path, int]:
    return {path: path.stat().st_mtime_ns for path in folder.rglob("*")}


@pytest.mark.long
async def test_drawing_changes_no_state_asks_for_nothing_and_writes_no_file(folder: Path) -> None:
    seen = list(sessions(folder))
    assert len({type(session.open) for session in seen}) > 4, "kinds of things that stand open"
    nowhere: Any = object()
    store, asked, before = SessionStore(seen[0], nowhere), list[object](), files(folder.parent)
    store.subscribe(lambda: asked.append(store.session))
    app = Shown(store, asked)
    async with app.run_test(size=(80, 24)) as pilot:
        for session in long_spread(seen, 6):
            app.draw(session)
            await pilot.pause()
    assert asked == []
    assert files(folder.parent) == before
