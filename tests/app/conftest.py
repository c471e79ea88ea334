"""What every test of the app begins with."""

import pytest

from cogwright.app import interaction


@pytest.fixture(autouse=True)
def the_file_is_looked_at_when_a_test_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    """Looked at every two seconds, a slow test would see what a quick one does not."""
    monkeypatch.setattr(interaction, "WATCH_S", 3600.0)
