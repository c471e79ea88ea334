"""What is left to write to a terminal that has gone."""

import os

import pytest

from cogwright.app.terminal.restore import let_go


def test_what_a_terminal_that_has_gone_did_not_take_goes_nowhere() -> None:
    """Python writes what is left when it ends, and makes the status 120 where it cannot."""
    reader, writer = os.pipe()
    stream = os.fdopen(writer, "w")
    stream.write("left")
    os.close(reader)
    let_go(stream)
    stream.flush()
    stream.close()


def test_what_a_terminal_takes_it_is_given(capfd: pytest.CaptureFixture[str]) -> None:
    with os.fdopen(os.dup(2), "w") as stream:
        stream.write("kept")
        let_go(stream)
        assert capfd.readouterr().err == "kept"
    let_go(None)
