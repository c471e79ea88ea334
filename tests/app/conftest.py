"""What every test of the app begins with."""

from collections.abc import Callable, Iterator

import pytest
import waiting
from sheets import share_parsed_sheets
from textual.pilot import Pilot
from textual.screen import Screen

from cogwright.app import interaction, main


@pytest.fixture(autouse=True, scope="session")
def the_pilot_waits_for_what_is_to_be_done() -> Iterator[None]:
    """And for nothing else: see there."""
    with pytest.MonkeyPatch.context() as patch:
        for module in ("app", "pilot"):
            patch.setattr(f"textual.{module}.wait_for_idle", waiting.at_once)
        for name in ("press", "pause"):
            patch.setattr(Pilot, name, getattr(waiting, name))
        patch.setattr(Screen, "_compositor_refresh", only_in_a_terminal(Screen._compositor_refresh))
        share_parsed_sheets(patch)
        yield


def only_in_a_terminal(draw: Callable[[Screen[object]], None]) -> Callable[[Screen[object]], None]:
    """What a headless app would send is not worked out."""

    def refresh(screen: Screen[object]) -> None:
        (waiting.nobody_looks if screen.app.is_headless else draw)(screen)

    return refresh


@pytest.fixture(autouse=True)
def the_file_is_looked_at_when_a_test_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    """Looked at every two seconds, a slow test would see what a quick one does not."""
    monkeypatch.setattr(interaction, "WATCH_S", 3600.0)


@pytest.fixture(autouse=True)
def the_draft_follows_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """No test waits for a clock."""
    monkeypatch.setattr(main, "DRAFT_S", 0.0)
