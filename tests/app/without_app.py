"""The bench by its keys without the library: a session, what they change in it, and its screen as lines."""

from collections.abc import Iterator
from pathlib import Path
from shutil import copytree
from typing import Any

import pytest

from cogwright.app.actions import default_keymap
from cogwright.app.controllers import registry
from cogwright.app.layout import frame_of
from cogwright.app.router import press, text_typed
from cogwright.app.state.beginning import first_beginning
from cogwright.app.state.opened import Typed
from cogwright.app.state.session import Session
from cogwright.app.state.store import SessionStore
from cogwright.options import Options
from cogwright.present.lines import Line, Look, plain
from support import ROOT

SIZE = Look(80, 24)


@pytest.fixture
def yard(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The demo, where what is exported goes too."""
    for name in ("XDG_STATE_HOME", "XDG_CONFIG_HOME"):
        monkeypatch.setenv(name, str(tmp_path / "state"))
    folder = Path(copytree(ROOT / "setups", tmp_path / "yard"))
    monkeypatch.chdir(folder)
    return folder


@pytest.fixture
def store(yard: Path) -> SessionStore:
    """The session of its first bike."""
    return begun(yard / "yard-1-two-rings.toml")


class Alone:
    """A host without an app: what takes a thread is done at once; what is copied is kept."""

    copied = ""

    def __getattr__(self, name: str) -> Any:
        return lambda *given: given[0](lambda: False) if name == "in_thread" else None

    def hand_over(self, what: Any) -> None:
        what()

    def copy(self, text: str) -> None:
        self.copied = text


class Typist:
    """A line for text that takes every character at its end, and takes it back from there."""

    def __init__(self, store: SessionStore) -> None:
        self.store = store

    def press(self, typed: Typed, key: str, character: str | None) -> None:
        before = "" if typed.fresh else typed.text
        text = before[:-1] if key == "backspace" else before + (character or "")
        text_typed(self.store, Typed(text, len(text)))

    def paste(self, typed: Typed, text: str) -> None:
        """Nothing is pasted here."""


def begun(file: Path, room: Look = SIZE) -> SessionStore:
    """The session of a file, or of the first setup of a folder, as it is after a start."""
    registry.load()
    folder, first = first_beginning([file], Options())
    return SessionStore(Session(first.work, folder, room=room, keymap=default_keymap()), Alone())


def keys(store: SessionStore, *pressed: str) -> None:
    """Press keys; a single character is typed as well, where something is typed."""
    for key in pressed:
        press(store, Typist(store), key, key if len(key) == 1 else None)


def seen(store: SessionStore) -> str:
    """All that stands on the screen, the blanks between words as one."""
    return " ".join(" ".join(plain(row) for row in _lines(store)).split())


def _lines(store: SessionStore) -> Iterator[Line]:
    frame = frame_of(store.session)
    yield from (*(spot.line for spot in frame.head), *frame.body.seen)
    if frame.drawer is not None:
        yield from (frame.drawer.title, *frame.drawer.head, *frame.drawer.rows, *frame.drawer.about)
        yield from (spot.line for spot in frame.drawer.keys)
    if frame.sheet is not None:
        yield from (frame.sheet.title, *frame.sheet.said, *frame.sheet.text.seen)
        yield from (spot.line for spot in frame.sheet.keys)
    yield from (spot.line for spot in frame.foot)
