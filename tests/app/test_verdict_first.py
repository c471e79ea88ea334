"""Each view opens with its verdict in one sentence: that of the study, the order and the comparison."""

from pathlib import Path

import pytest

from cogwright.app.comparing import compared
from cogwright.app.layout import page_of
from cogwright.app.main import BenchApp
from cogwright.options import Options
from cogwright.present.lines import Look, plain
from cogwright.present.verdicts import figures_verdict, fit_verdict, gears_verdict
from cogwright.present.views.compare import compare_verdict
from cogwright.present.views.order import order_verdict
from support import ROOT


@pytest.mark.long(cases=1)
@pytest.mark.parametrize("name", ["yard-1-second-trial", "yard-7-pass", "yard-8-folder"])
async def test_the_first_line_of_a_view_is_its_verdict(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    app = BenchApp([ROOT / "setups" / f"{name}.toml"], Options())
    found: dict[str, str] = {}
    async with app.run_test(size=(80, 40)) as pilot:
        for digit in "23456781":
            await pilot.press(digit)
            page = page_of(app.store.session, Look(200))
            found[digit] = plain((*page.head, *page.rows)[0]).strip()
        session = app.store.session
    of = session.study
    assert found["1"] == found["7"] == gears_verdict(of).text
    assert found["2"] == figures_verdict(of).text
    assert found["3"].startswith(fit_verdict(of).text)
    assert found["4"].startswith("Steepest all day ")
    assert " from easiest to hardest, " in found["5"]
    assert found["6"] == order_verdict(session.order_sheet).text
    assert found["8"] == compare_verdict(compared(session)).text
