"""What the app says of a paste that was not taken whole."""

from pathlib import Path

from cogwright.app.main import BenchApp
from cogwright.app.terminal.messages import PasteCut


async def test_the_foot_says_that_a_paste_was_cut(tmp_path: Path) -> None:
    app = BenchApp([tmp_path])
    async with app.run_test() as pilot:
        await pilot.pause()
        app.post_message(PasteCut(over_limit=True))
        await pilot.pause()
        assert "longer than 64 kB" in app.store.session.message
        app.post_message(PasteCut(over_limit=False))
        await pilot.pause()
        assert "end of the paste did not come" in app.store.session.message
