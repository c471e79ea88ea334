"""The store: sessions follow each other in it alone; controllers need no app, only what a host does."""

from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from shutil import copytree

import pytest

from cogwright.app.actions import ACTIONS, default_keymap
from cogwright.app.controllers import registry
from cogwright.app.layout import frame_of
from cogwright.app.router import EditedLine, paste, press
from cogwright.app.state.beginning import blank, first_beginning
from cogwright.app.state.opened import Typed, do
from cogwright.app.state.session import Session
from cogwright.app.state.store import SessionStore
from cogwright.options import Options
from cogwright.present.chart_style import ChartStyle
from support import ROOT, long_run


@dataclass
class Alone:
    """A host without an app: it remembers what it was asked for."""

    asked: list[str] = field(default_factory=list)

    def leave(self, status: int) -> None:
        self.asked.append(f"leave {status}")

    def suspend(self) -> bool:
        return False

    def repaint(self) -> None:
        self.asked.append("repaint")

    def copy(self, text: str) -> None:
        self.asked.append(f"copy {len(text)}")

    def selected_text(self) -> str:
        return ""

    def remember(self, chart: ChartStyle) -> str:
        self.asked.append("remember")
        return ""

    def in_thread(self, work: Callable[[Callable[[], bool]], None]) -> None:
        work(lambda: False)

    def hand_over(self, what: Callable[[], None]) -> None:
        what()

    def work_again(self) -> None:
        self.asked.append("work again")


class NoLine(EditedLine):
    """A line for text at which nobody types."""

    def press(self, typed: Typed, key: str, character: str | None) -> None:
        """Nothing."""

    def paste(self, typed: Typed, text: str) -> None:
        """Nothing."""


@pytest.fixture
def store(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> SessionStore:
    """A store on the demo."""
    monkeypatch.chdir(tmp_path)
    registry.load()
    folder, begun = first_beginning([copytree(ROOT / "setups", tmp_path / "shelf")], Options())
    return SessionStore(Session(begun.work, folder, keymap=default_keymap()), Alone())


def test_whoever_has_subscribed_is_told_of_every_change_and_of_nothing_else() -> None:
    store, told = SessionStore(Session(blank()), Alone()), list[str]()
    store.subscribe(lambda: told.append(store.session.message))
    store.say("one")
    store.replace(store.session)
    store.change(message="two")
    assert told == ["one", "two"]


def test_a_subscriber_may_change_the_session_itself() -> None:
    store, seen = SessionStore(Session(blank(), hinting=True), Alone()), list[bool]()

    def once() -> None:
        if store.session.hinting:
            store.change(hinting=False)

    store.subscribe(once)
    store.subscribe(lambda: seen.append(store.session.hinting))
    store.say("anything")
    assert not store.session.hinting
    assert set(seen) == {False}


def test_what_a_key_does_compares_by_what_it_is_given() -> None:
    assert do(max, 3) == do(max, 3) != do(max, 4)
    assert do(max, 3)(1) == 3


@pytest.mark.long(cases=12)
@pytest.mark.parametrize("action", [action.id for action in ACTIONS])
def test_every_action_is_done_and_laid_out_without_an_app(action: str, store: SessionStore) -> None:
    for again in range(long_run(2)):  # what an action opens takes keys, a paste and a way out
        registry.CONTROLLERS[action](store)
        frame_of(store.session)
        for key in ("down", "end", "pageup", "x", "f10"):
            press(store, NoLine(), key, None)
            frame_of(store.session)
        paste(store, NoLine(), "text")
        for _ in range(4):
            press(store, NoLine(), "escape", None)
            store.replace(store.session.popped() if store.session.over else store.session)
        assert not store.session.over, again


def test_leaving_asks_the_host_and_asks_first_what_becomes_of_the_work(store: SessionStore) -> None:
    press(store, NoLine(), "down", None)
    press(store, NoLine(), "q", "q")
    assert store.host.asked == []  # type: ignore[attr-defined]
    press(store, NoLine(), "d", "d")
    assert store.host.asked == ["leave 0"]  # type: ignore[attr-defined]
    assert not store.session.edited


def test_views_open_at_their_tops_once_they_say_another_thing(store: SessionStore) -> None:
    for key in ("3", "pagedown", "7"):
        press(store, NoLine(), key, None)
    scrolled = store.session.tops[3]
    assert scrolled > 0
    press(store, NoLine(), "3", None)
    assert store.session.top == scrolled  # nothing has changed: as it was left
    press(store, NoLine(), "1", None)
    press(store, NoLine(), "down", None)  # another cog
    press(store, NoLine(), "3", None)
    assert store.session.top == 0
