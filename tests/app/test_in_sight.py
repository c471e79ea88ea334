"""What must be seen at one look, however it is scrolled: gone ends, largest jump, both ends of the bike."""

import re
from collections.abc import Iterable
from pathlib import Path

import pytest
from screens import rows, text

from cogwright.app.actions import default_keymap
from cogwright.app.layout import frame_of
from cogwright.app.main import BenchApp
from cogwright.app.state.session import Session
from cogwright.app.state.work import Baseline, Work
from cogwright.core.setup.history import History
from cogwright.core.setup.model import Setup
from cogwright.core.study import study
from cogwright.options import Options
from cogwright.present.chart_style import ChartKind, ChartStyle, RowOrder
from cogwright.present.lines import SOLID, Look, plain
from cogwright.present.panels.screen import side_width, view_look
from cogwright.present.views.gears_columns import columns
from cogwright.store.documents import read_setup
from support import ROOT, long_cases

FOLDER = ROOT / "setups"
BIKES = {path.stem: read_setup(path).value for path in sorted(FOLDER.glob("*.toml"))}


def session(bench: Setup, base: Setup, room: Look, style: ChartStyle, top: int = 0) -> Session:
    work = Work(History(bench), baseline=Baseline(base, base.name))
    return Session(work, room=room, chart=style, tops={1: top}, keymap=default_keymap())


def named(seen: Iterable[str]) -> list[str]:
    """The gears with which lines begin, after a blank or the mark of a gap."""
    return [found[1] for row in seen if (found := re.match(r".(\d+x\d+(?: h\d+)?)\b", row))]


def labels(of: Session) -> list[str]:
    """The gears that the rows in sight begin with."""
    return named(map(plain, frame_of(of).body.seen))


def wanted(bench: Setup, base: Setup) -> set[str]:
    """Both ends of the bike, what is gone beyond each (its outermost gear), the largest step of a click."""
    of = study(bench, base)
    against = of.comparison
    assert against is not None
    found = {of.gears[0].label, of.gears[-1].label}
    found |= {gear.label for gear in (*against.lost_low[:1], *against.lost_high[-1:])}
    out = [step for step in of.rear_steps if step.stands_out] or list(of.rear_steps)
    if out:
        most = max(step.step_pct for step in out)
        found.add(
            next(
                s
                for s in out
                if s.step_pct == most
                and s.harder
                == min((t.harder for t in out if t.step_pct == most), key=lambda g: g.development_m)
            ).harder.label
        )
    return found  # fmt: skip


@pytest.mark.long(cases=3)
@pytest.mark.parametrize("name", long_cases(list(BIKES), 4))
@pytest.mark.parametrize("style", [ChartStyle(kind) for kind in ChartKind], ids=lambda s: s.drawing.value)
@pytest.mark.parametrize("top", long_cases([5, 0, 999], 1))
def test_gone_ends_and_the_largest_jump_are_in_sight_however_it_is_scrolled(
    name: str, style: ChartStyle, top: int
) -> None:
    for base in BIKES.values():
        of = session(BIKES[name], base, Look(80, 24, SOLID), style, top)
        assert wanted(BIKES[name], base) <= set(labels(of)), base.name


def test_what_is_gone_is_named_though_it_shares_a_row() -> None:
    bench, base = BIKES["yard-1-first-trial"], BIKES["yard-1-two-rings"]
    seen = "\n".join(map(plain, frame_of(session(bench, base, Look(80, 24, SOLID), ChartStyle())).body.seen))
    # 42 with 12 and 11 teeth go 7.7 and 8.4 m, the trial's hardest gear, 36 with 11, goes 7.2 m.
    assert "2 lost: 42x11, 42x12" in seen


@pytest.mark.long(cases=6)
@pytest.mark.parametrize("name", BIKES)
@pytest.mark.parametrize("order", list(RowOrder))
def test_every_row_can_be_scrolled_to(name: str, order: RowOrder) -> None:
    bike, style, room = BIKES[name], ChartStyle(rows=order), Look(80, 24, SOLID)
    last = frame_of(session(bike, bike, room, style)).body.last_top
    seen = {label for top in range(last + 1) for label in labels(session(bike, bike, room, style, top))}
    assert {gear.label for gear in study(bike).gears} <= seen


@pytest.mark.long(cases=4)
@pytest.mark.parametrize("name", BIKES)
def test_bars_never_get_narrower_as_the_window_gets_wider(name: str) -> None:
    gears, before = study(BIKES[name]).gears, 0
    for cells in range(20, 300):
        bar = columns(gears, view_look(Look(cells))).bar
        assert bar >= before, cells
        before = bar
    assert before > 100


def test_the_view_beside_the_panel_grows_with_the_window() -> None:
    assert side_width(Look(109)) == 0
    inside = [view_look(Look(cells)).width for cells in range(110, 300)]
    assert inside == sorted(inside)
    assert side_width(Look(110)) >= 30


@pytest.mark.long(cases=0)
@pytest.mark.parametrize("key", ["o", "b", "p"])
async def test_lists_leave_lowest_highest_and_worst_step_in_sight(
    key: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for name in ("XDG_STATE_HOME", "XDG_CONFIG_HOME"):
        monkeypatch.setenv(name, str(tmp_path))
    for name in ("yard-1-first-trial", "yard-2-camping", "yard-8-folder"):
        app = BenchApp([FOLDER / f"{name}.toml"], Options())
        async with app.run_test(size=(80, 24)) as pilot:
            await pilot.press(key)
            assert app.store.session.over
            of = app.store.session.study
            assert of.baseline is not None
            assert wanted(of.bench, of.baseline) <= set(named(rows(app))), text(app)
