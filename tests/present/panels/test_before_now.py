"""The six figures before and now, and every click: against the study itself, and by hand from teeth."""

from itertools import pairwise

import pytest

from cogwright.core.gears.gears import gears_of
from cogwright.core.setup.model import Setup
from cogwright.core.study import study
from cogwright.present.clicks import clicks_of
from cogwright.present.lines import Look, Span, plain
from cogwright.present.panels.before_now import before_now, foot_table, panel_table
from cogwright.store.documents import read_setup
from support import ROOT, make

BIKES = {path.stem: read_setup(path).value for path in sorted((ROOT / "setups").glob("*.toml"))}
BASES = ("yard-1-two-rings", "yard-8-folder")
#: 40 teeth on a wheel of 2 m: a cog of n goes 80 / n m. The 11 and the 28 go, the step 15 to 24 is new.
BEFORE = make((40,), (11, 12, 13, 15, 17, 20, 24, 28), rollout_mm=2000)
NOW = make((40,), (12, 13, 15, 24), rollout_mm=2000)


def said(bench: Setup, base: Setup | None) -> dict[str, tuple[str, str, str]]:
    return {of.name: (of.before, of.now, of.words) for of in before_now(study(bench, base))}


@pytest.mark.long(cases=6)
@pytest.mark.parametrize("base", BASES)
@pytest.mark.parametrize("name", BIKES)
def test_the_six_are_those_of_the_study(name: str, base: str) -> None:
    of = study(BIKES[name], BIKES[base])
    table = said(BIKES[name], BIKES[base])
    was, now = (sorted(g.development_m for g in gears_of(BIKES[one])) for one in (base, name))
    assert table["low m"][:2] == (f"{was[0]:.2f}", f"{now[0]:.2f}")
    assert table["high m"][:2] == (f"{was[-1]:.2f}", f"{now[-1]:.2f}")
    assert table["range %"][:2] == (f"{100 * was[-1] / was[0]:.0f}", f"{100 * now[-1] / now[0]:.0f}")
    jumps = [sum(step.stands_out for step in steps) for steps in (of.base_steps, of.rear_steps)]
    assert table["jumps"][:2] == (str(jumps[0]), str(jumps[1]))
    largest = [max((s.step_pct for s in steps), default=None) for steps in (of.base_steps, of.rear_steps)]
    assert table["largest %"][:2] == tuple("" if pct is None else f"{pct:.1f}" for pct in largest)
    assert of.felt is not None
    assert table["gears lost"][1] == str(len(of.felt.lost_low) + len(of.felt.lost_high))


def test_the_six_by_hand() -> None:
    """80/28, 80/24 m: 16.7 % harder; 80/11, 80/12: 8.3 % lower; 28/11, 24/12; 24/20, 24/15 less 1."""
    table = said(NOW, BEFORE)
    assert table["low m"] == ("2.86", "3.33", "16.7 % harder")
    assert table["high m"] == ("7.27", "6.67", "8.3 % lower")
    assert table["gears lost"][1:] == ("2", "40x28, 40x11")
    assert table["largest %"] == ("20.0", "60.0", "24 to 15")
    assert table["range %"][:2] == ("255", "200")
    assert table["range %"][2].endswith("% less")
    assert said(BEFORE, NOW)["low m"][2] == "14.3 % easier"
    assert said(BEFORE, NOW)["high m"][2] == "9.1 % higher"
    assert {row[2] for row in said(NOW, NOW).values()} >= {"as before", "none"}


@pytest.mark.parametrize("name", BIKES)
def test_foot_and_panel_show_all_six(name: str) -> None:
    of = study(BIKES[name], BIKES["yard-1-two-rings"])
    shown = (
        " ".join(map(plain, panel_table(of, 40))),
        " ".join(map(plain, foot_table(of, Span(""), Look(80)))),
    )
    for change in before_now(of):
        for text in shown:
            assert f"{change.before:>6}{change.now:>6}" in text, change.name


def test_every_click_is_one_of_the_study_before_and_now() -> None:
    """From the easiest: 24/15, 15/13 and 13/12 less 1, by hand; before 28/24 and on."""
    of = clicks_of(study(NOW, BEFORE))
    assert of.now == pytest.approx([60.0, 100 * 2 / 13, 100 / 12])
    assert of.names == ("15", "13", "12")
    cogs = (28, 24, 20, 17, 15, 13, 12, 11)
    assert of.before == pytest.approx([100 * (a / b - 1) for a, b in pairwise(cogs)])


@pytest.mark.parametrize("name", BIKES)
def test_the_largest_click_of_a_strip_is_that_of_the_table(name: str) -> None:
    """Rings of one bike share their steps: the strip of one has the largest of all."""
    of = study(BIKES[name], BIKES["yard-1-two-rings"])
    strip = clicks_of(of)
    assert max(strip.now, default=0.0) == pytest.approx(max((s.step_pct for s in of.rear_steps), default=0.0))
    assert max(strip.before) == pytest.approx(max(s.step_pct for s in of.base_steps))
