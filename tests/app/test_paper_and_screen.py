"""What is printed and what the screen shows are the same figures, by one rule for baseline and bin."""

import json
import re
from pathlib import Path

import pytest

from cogwright.app.layout import page_of
from cogwright.app.main import BenchApp
from cogwright.app.state.session import Session
from cogwright.options import Options
from cogwright.present.lines import Look, plain
from cogwright.present.panels.before_now import before_now
from support import ROOT, called

SETUPS = ROOT / "setups"
#: Bars, marks and what else is drawn: no figures.
DRAWN = re.compile(r"[^\x00-\x7f]")


@pytest.fixture(autouse=True)
def quiet(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("XDG_STATE_HOME", "XDG_CONFIG_HOME"):
        monkeypatch.setenv(name, str(tmp_path / "state"))
    monkeypatch.setenv("LANG", "C.UTF-8")


async def shown(file: Path, keys: str) -> dict[str, Session]:
    """The session of a file after each of these keys."""
    app = BenchApp([file], Options())
    found: dict[str, Session] = {}
    async with app.run_test(size=(80, 40)) as pilot:
        for key in keys:
            await pilot.press(key)
            found[key] = app.store.session
    return found


def figures(text: str) -> list[str]:
    """The lines of a text that have figures, without what is drawn; blanks are as they come."""
    rows = (" ".join(DRAWN.sub(" ", row).split()) for row in text.splitlines())
    return [row for row in rows if re.search(r"\d", row)]


def printed(*args: object) -> str:
    done = called(*map(str, args))
    assert (done.returncode, done.stderr) == (0, ""), args
    return done.stdout


def page(session: Session, width: int) -> list[str]:
    """The lines with figures of the view that a session looks at, in so many columns."""
    of = page_of(session, Look(width))
    return figures("\n".join(plain(row) for row in (*of.head, *of.rows)))


@pytest.mark.long(cases=1)
@pytest.mark.parametrize("name", ["yard-1-first-trial", "yard-1-second-trial"])
async def test_order_compare_and_report_print_what_the_views_show(name: str) -> None:
    """Line by line in the same width: parts and work, columns, gears, checks, rides, shifts."""
    file = SETUPS / f"{name}.toml"
    views = await shown(file, "68531")
    order = figures(printed("order", file))
    verdict, *others = [row for row in page(views["6"], 81) if row not in order]
    assert re.findall(r"[0-9.]+(?= EUR)", verdict)[0] in " ".join(order)
    assert others == [row for row in page(views["6"], 81) if row.startswith("from ")]
    compared = " ".join(printed("compare", file).split())
    for label in ("lowest m", "highest m", "range", "largest step", "spins out", "parts", "total about"):
        row = next(row for row in page(views["8"], 80) if row.startswith(label))
        assert row in compared, row
    report = figures(printed("report", file))
    for key in "531":
        assert [row for row in page(views[key], 80) if row not in report] == [], key


async def test_jumps_are_counted_alike_in_the_foot_and_in_a_comparison() -> None:
    """One that stands out is a jump; a step that is only over the limit is counted apart in both."""
    file = SETUPS / "yard-1-first-trial.toml"
    session = (await shown(file, "8"))["8"]
    foot = next(change for change in before_now(session.study) if change.name == "jumps")
    rows = page(session, 80)
    jumps, wide = (
        next(row for row in rows if row.strip().startswith(name)) for name in ("jumps", "over limit")
    )
    assert jumps.replace("*", "").split() == ["jumps", foot.before, foot.now]
    assert wide.split()[-1] == foot.words.split()[0]


@pytest.mark.long(cases=0)
@pytest.mark.parametrize("name", ["yard-1-second-trial", "yard-7-pass", "yard-8-folder"])
async def test_the_session_and_the_report_have_the_same_figures(name: str) -> None:
    file = SETUPS / f"{name}.toml"
    session = (await shown(file, "6"))["6"]
    report = json.loads(printed("report", file, "--format", "json"))
    of = session.study
    assert [gear["development_m"] for gear in report["gears"]] == pytest.approx(
        [row.gear.development_m for row in of.rows], abs=1e-6
    )
    assert report["summary"]["jumps"] == of.summary.jumps
    assert [one["status"] for one in report["fit"]] == [check.status.value for check in of.fit]
    against_itself = session.work.against_itself
    assert (report["comparison"] is None) is against_itself
    sheet = session.order_sheet
    if not against_itself and sheet is not None:
        order = json.loads(printed("order", file, "--format", "json"))
        assert (order["parts_cost"], order["bin"]) == (pytest.approx(sheet.price), sheet.stock)
        assert report["comparison"]["low_change_pct"] == pytest.approx(of.comparison.low_change_pct)  # type: ignore[union-attr]
