"""How the gears are drawn is kept for the next start in the settings file; nothing else there changes."""

import os
from pathlib import Path

import pytest
from screens import text

from cogwright.app.main import BenchApp
from cogwright.app.remembering import remember_chart
from cogwright.app.settings import read_settings
from cogwright.options import Options
from cogwright.present.chart_style import (
    AxisUnit,
    BaseMode,
    ChartKind,
    ChartStyle,
    Choice,
    RowOrder,
    ScaleKind,
)
from support import ROOT

BIKE = ROOT / "setups" / "yard-7-pass.toml"
WAYS: dict[str, type[Choice]] = {"l": ChartKind, "z": ScaleKind, "v": BaseMode, "y": RowOrder, "m": AxisUnit}
OTHER = ChartStyle(ChartKind.LADDER, ScaleKind.LINEAR, BaseMode.LOST, RowOrder.RING, AxisUnit.SPEED)


@pytest.fixture
def settings(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Where the usual file is."""
    for name in ("XDG_STATE_HOME", "XDG_CONFIG_HOME"):
        monkeypatch.setenv(name, str(tmp_path))
    monkeypatch.setenv("LANG", "C.UTF-8")
    return tmp_path / "cogwright" / "settings.toml"


async def test_what_is_chosen_by_key_is_there_at_the_next_start(settings: Path) -> None:
    app = BenchApp([BIKE])
    async with app.run_test(size=(80, 24)) as pilot:
        assert app.store.session.chart == ChartStyle()
        await pilot.press("l", "z", "v", "y", "m")
        assert app.store.session.chart == OTHER
    again = BenchApp([BIKE])
    async with again.run_test(size=(80, 24)):
        assert again.store.session.chart == OTHER
        assert "before" in text(again)
    assert read_settings(settings)[0].chart.style == OTHER


@pytest.mark.long(cases=0)
async def test_each_way_comes_round_again(settings: Path) -> None:
    app = BenchApp([BIKE])
    async with app.run_test(size=(80, 24)) as pilot:
        for key, ways in WAYS.items():
            seen = set[str]()
            for _ in ways:
                await pilot.press(key)
                seen.add(text(app))
                assert app.store.session.view == 1
            assert app.store.session.chart == ChartStyle()
            assert len(seen) == len(list(ways)), key


def test_comments_and_other_settings_stay_as_they_stand(tmp_path: Path) -> None:
    file = tmp_path / "mine.toml"
    file.write_text('# mine\nformat = 1\ntheme = "light"  # for the shop\n[keys]\nundo = "F2"\n')
    assert remember_chart(file, OTHER) == ""
    assert remember_chart(file, ChartStyle()) == ""
    said = file.read_text()
    assert said.startswith('# mine\nformat = 1\ntheme = "light"  # for the shop\n')
    assert 'undo = "F2"' in said
    assert said.count("[chart]") == 1
    made, keymap = read_settings(file)
    assert made.chart.style == ChartStyle()
    assert keymap["undo"] == ("f2",)


@pytest.mark.parametrize("bad", ["format = ", "[chart", "chart = 3\n"])
def test_a_file_that_cannot_be_read_is_left_alone_and_said(bad: str, tmp_path: Path) -> None:
    file = tmp_path / "mine.toml"
    file.write_text(bad)
    assert remember_chart(file, OTHER) != ""
    assert file.read_text() == bad


@pytest.mark.skipif(os.name == "nt" or os.geteuid() == 0, reason="root may write anywhere")
async def test_where_it_cannot_be_kept_it_is_said_and_the_choice_holds(settings: Path) -> None:
    settings.parent.mkdir()
    settings.parent.chmod(0o500)
    app = BenchApp([BIKE])
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("l")
        assert "Not remembered" in app.store.session.message
        assert app.store.session.chart.drawing is ChartKind.LADDER


async def test_a_file_of_one_s_own_is_the_one_that_remembers(settings: Path, tmp_path: Path) -> None:
    own = tmp_path / "own.toml"
    own.write_text("format = 1\n")
    app = BenchApp([BIKE], Options(keys=own))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("z")
    assert read_settings(own)[0].chart.style.scale is ScaleKind.LINEAR
    assert not settings.exists()
