"""Wear: measured stretch against limits by hand, verdicts, what 1000 km cost, the log.

A: 12 link pairs measure 304.8 mm when new; 1.5 mm more is 0.5 %, 3.0 mm more 1.0 % (as printed with the cycle
chain sections). P: changed at 0.5 % from 10 cogs, at 0.75 % below.
"""

import datetime
import json
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from bikes import COGS, DRAWERS, bike, check
from cogwright.core.fit.check import Status
from cogwright.core.parts.bin import Bin
from cogwright.core.parts.wear_prices import prices_for
from cogwright.core.setup.model import Setup
from cogwright.core.setup.renewed import (
    cassette_renewed,
    chain_renewed,
    rings_renewed,
    with_new_cassette,
    with_new_chain,
    with_new_rings,
)
from cogwright.core.study import study
from cogwright.core.wear.costs import Prices, costs_of
from cogwright.core.wear.log import logged
from cogwright.core.wear.staying import Fate, cassette_verdict, verdicts
from cogwright.core.worksheet.build import order_sheet
from cogwright.present.lines import ASCII, Look, plain, width
from cogwright.present.views.fit import fit_lines
from cogwright.present.views.order import order_lines
from cogwright.store.documents import parse, read_document, to_toml
from support import called

NINE = COGS[:9]


def of(setup: Setup, baseline: Setup | None = None) -> dict[str, Fate]:
    return {verdict.part: verdict.fate for verdict in verdicts(setup, baseline)}


@pytest.mark.parametrize(
    ("cogs", "wear", "fate"),
    [
        (COGS, {"chain_12_links_mm": 304.8}, Fate.STAYS),
        (COGS, {"chain_12_links_mm": 306.1}, Fate.STAYS),
        (COGS, {"chain_12_links_mm": 306.3}, Fate.DUE),
        (COGS, {"chain_pct": 0.49}, Fate.DUE),  # as near as a ruler is read
        (COGS, {"chain_pct": 0.47}, Fate.STAYS),
        (COGS, {"chain_12_links_mm": 307.1}, Fate.GOES),
        (NINE, {"chain_12_links_mm": 306.3}, Fate.STAYS),
        (NINE, {"chain_12_links_mm": 307.1}, Fate.DUE),
        (NINE, {"chain_12_links_mm": 307.8}, Fate.GOES),
    ],
)
def test_the_chain_by_its_length_and_the_number_of_cogs(cogs: Any, wear: dict[str, Any], fate: Fate) -> None:
    setup = bike(cogs=cogs, rear={"carriers": None}, wear=wear)
    assert of(setup)["chain"] is fate
    status = {Fate.STAYS: Status.OK, Fate.DUE: Status.CAUTION, Fate.GOES: Status.PROBLEM}[fate]
    found = check(setup, "chain wear")
    assert (found.status, found.limit, found.unit) == (status, 0.5 if len(cogs) >= 10 else 0.75, "%")
    assert found.default


def test_a_length_and_a_share_are_the_same_figure() -> None:
    found = check(bike(wear={"chain_12_links_mm": 306.3}), "chain wear").figure
    assert found == pytest.approx(float(Fraction("1.5") / Fraction("304.8") * 100))
    assert bike(wear={"chain_12_links_mm": 306.3, "chain_pct": 0.6}).wear.stretch_pct == 0.6, "the larger"
    assert bike(wear={"chain_12_links_mm": 304.0}).wear.stretch_pct == 0.0, "a reading, not a negative wear"


def test_the_setups_own_limit_wins() -> None:
    found = check(bike(wear={"chain_pct": 0.6}, limits={"chain_wear_pct": 0.8}), "chain wear")
    assert (found.status, found.limit, found.default) == (Status.OK, 0.8, False)


@pytest.mark.parametrize(
    ("wear", "fate"),
    [
        ({"changed_at_pct": 0.4}, Fate.STAYS),
        ({"changed_at_pct": 0.5}, Fate.DOUBTFUL),
        ({"changed_at_pct": 0.75}, Fate.GOES),
        ({"changed_at_pct": 0.3, "chain_pct": 0.6}, Fate.DOUBTFUL),  # the worse of both
        ({"cassette_state": "hooked", "changed_at_pct": 0.1}, Fate.GOES),
        ({"cassette_state": "worn"}, Fate.DOUBTFUL),
        ({"cassette_state": "good"}, Fate.STAYS),
        ({"cassette_state": "new", "changed_at_pct": 0.9}, Fate.STAYS),
        ({"cassette_km": 9000.0}, Fate.UNKNOWN),
    ],
)
def test_a_new_chain_on_this_cassette(wear: dict[str, Any], fate: Fate) -> None:
    assert of(bike(wear=wear))["cassette"] is fate


def test_new_on_worn_is_a_problem_only_once_the_chain_is_new() -> None:
    worn = bike(wear={"chain_pct": 0.9})
    assert check(worn, "chain wear").status is Status.PROBLEM
    assert check(worn, "new on worn").status is Status.CAUTION, "the worn two run together"
    assert "likely to slip" in check(worn, "new on worn").say
    renewed = with_new_chain(worn, worn.chain)
    assert check(renewed, "new on worn").status is Status.PROBLEM
    assert "chain wear" not in {c.check for c in study(renewed).fit}, "nobody has measured the new one"
    assert check(with_new_cassette(renewed), "new on worn").status is Status.OK
    assert check(with_new_cassette(worn), "new on worn").status is Status.CAUTION, "the worn chain is on it"


def test_new_cogs_under_a_worn_chain_are_named() -> None:
    base = bike(wear={"chain_pct": 0.6})
    bench = bike(cogs=(*COGS[:-1], 36), rear={"carriers": None}, wear={"chain_pct": 0.6})
    assert "on the new cog 36 it wears them fast and can slip" in check(study(bench, base), "chain wear").say


@pytest.mark.parametrize(
    ("wear", "status"),
    [
        ({"rings_state": "hooked"}, Status.PROBLEM),
        ({"rings_state": "worn", "rings_km": 20_000.0}, Status.CAUTION),
        ({"rings_state": "good"}, Status.OK),
        ({"rings_km": 20_000.0}, Status.UNKNOWN),
    ],
)
def test_rings_go_by_their_teeth(wear: dict[str, Any], status: Status) -> None:
    setup = bike(wear=wear)
    assert check(setup, "ring wear").status is status
    assert check(with_new_rings(setup), "ring wear").status is Status.OK
    assert with_new_rings(bike()) == bike(), "nothing was known, and nothing is said"


def test_what_was_said_of_rings_holds_for_those_that_stay() -> None:
    base = bike((34, 46), wear={"rings_state": "hooked"})

    def status(rings: tuple[int, ...]) -> Status:
        return check(study(bike(rings, wear={"rings_state": "hooked"}), base), "ring wear").status

    assert (status((34, 46)), status((34, 48)), status((36, 48))) == (
        Status.PROBLEM,
        Status.PROBLEM,
        Status.OK,
    )


def test_how_far_it_may_go_yet() -> None:
    # By hand: 0.25 % in 2000 km; the other 0.25 % take as far again.
    assert (
        "about 2000 km from now"
        in check(bike(wear={"chain_pct": 0.25, "chain_km": 2000.0}), "chain wear").say
    )


def test_what_a_thousand_kilometres_cost() -> None:
    """By hand with fractions: 0.25 % in 2000 km; chain 20, cassette 60, rings 90."""
    setup = bike(wear={"chain_pct": 0.25, "chain_km": 2000.0})
    found = costs_of(setup, Prices(20.0, 60.0, 90.0, "EUR"))
    assert found is not None
    rate = Fraction(25, 100) / 2  # % in 1000 km
    chains = rate / Fraction(1, 2)
    early = chains * 20 + chains / 3 * 60 + chains / 6 * 90
    out = rate / 2 * (20 + 60 + 90)
    assert found.rate_pct == pytest.approx(float(rate))
    assert (found.early.cost, found.run_out.cost) == (pytest.approx(float(early)), pytest.approx(float(out)))
    assert found.early.chains == pytest.approx(float(chains))
    assert "a cassette lasts 3 chains that are changed in time (common practice)" in found.assumptions


def test_own_assumptions_are_not_called_common_practice() -> None:
    wear = {"chain_pct": 0.25, "chain_km": 2000.0, "chains_per_cassette": 5.0, "run_out_pct": 1.5}
    found = costs_of(bike(wear=wear), Prices(20.0, 60.0, None))
    assert found is not None
    assert "a cassette lasts 5 chains that are changed in time" in found.assumptions
    assert "all is run out at 1.5 %" in found.assumptions
    assert found.early.cost is None, "no price for the rings, so no sum"


def test_no_costs_without_a_rate() -> None:
    assert costs_of(bike(wear={"chain_pct": 0.25}), Prices(1.0, 1.0, 1.0)) is None
    assert costs_of(bike(wear={"chain_km": 2000.0}), Prices(1.0, 1.0, 1.0)) is None
    assert costs_of(bike(wear={"chain_pct": 0.0, "chain_km": 50.0}), Prices(1.0, 1.0, 1.0)) is None


def test_prices_come_out_of_the_bin_and_the_setups_own_win() -> None:
    stock = read_document(DRAWERS, Bin).value
    found = prices_for(bike((34, 46), rear={"family": "eleven pull"}), stock)
    # As the demo bin lists them: chain for 11 cogs 27, cassette 11-34 54, ring 34 16 and ring 46 32.
    assert (found.chain, found.cassette, found.rings, found.currency) == (27.0, 54.0, 48.0, "EUR")
    assert prices_for(bike((34, 46), wear={"chain_price": 5.0}), stock).chain == 5.0
    assert prices_for(bike((33, 46)), stock).rings is None


def test_the_orders_first_line_of_work_reads_it() -> None:
    stock = read_document(DRAWERS, Bin).value
    base = bike(wear={"chain_12_links_mm": 306.6, "chain_km": 2600.0, "rings_state": "worn"})
    bench = bike(cogs=(*COGS[:-1], 36), rear={"carriers": [[23, 25, 28]]}, chain={"links": 114})
    sheet = order_sheet(study(bench, base), stock)
    assert sheet is not None
    first = sheet.steps[0]
    assert first.do.startswith("Look first")
    assert first.cautions[0].startswith("chain due: change it before it wears the cogs (0.5 % with 11 cogs)")
    assert any(said.startswith("cassette doubtful") for said in first.cautions)
    assert any(said.startswith("rings doubtful") for said in first.cautions)
    assert sheet.costs is not None
    shown = "\n".join(map(plain, order_lines(sheet, Look())))
    assert "Wear in 1000 km" in shown
    assert "304.8 mm new" not in shown, "somebody has measured"


def test_where_nobody_has_measured_it_says_how() -> None:
    for cogs, said in ((COGS, "306.3 mm (0.5 %)"), (NINE, "307.1 mm (0.75 %)")):
        base = bike(cogs=cogs, rear={"carriers": None})
        sheet = order_sheet(study(bike((34, 48), cogs, rear={"carriers": None}), base))
        assert sheet is not None
        assert said in sheet.steps[0].cautions[0]
        assert sheet.costs is None


def test_the_log_is_kept_in_order_and_in_the_file() -> None:
    day = datetime.date
    setup = logged(bike(), day(2026, 5, 2), "new chain", 12_400.0)
    setup = logged(setup, day(2025, 11, 30), "cassette 11-34")
    assert [entry.what for entry in setup.log] == ["cassette 11-34", "new chain"]
    text = to_toml(setup)
    assert text.endswith(
        '[[log]]\ndate = 2025-11-30\nwhat = "cassette 11-34"\n\n'
        '[[log]]\ndate = 2026-05-02\nkm = 12400\nwhat = "new chain"\n'
    )
    assert parse(text, Setup) == setup


def test_a_date_that_is_none_is_named(tmp_path: Path) -> None:
    text = to_toml(bike()) + '\n[[log]]\ndate = "yesterday"\nwhat = "new chain"\n'
    (tmp_path / "a.toml").write_text(text)
    done = called("check", "a.toml", cwd=tmp_path)
    assert done.returncode == 1
    assert "log[1].date" in done.stdout + done.stderr
    assert "2026-05-31" in done.stdout + done.stderr


@pytest.mark.parametrize("cells", [24, 40, 64, 80, 120])
def test_the_table_fits(cells: int) -> None:
    wear = {
        "chain_pct": 0.6,
        "chain_km": 2600.0,
        "chain_price": 20.0,
        "cassette_price": 60.0,
        "rings_price": 90.0,
    }
    rows = fit_lines(study(bike(wear=wear)), Look(cells, glyphs=ASCII))
    assert max(map(width, rows)) <= cells
    shown = "\n".join(map(plain, rows))
    assert "What can stay" in shown
    assert "Wear in 1000 km" in shown


def test_json_has_it(tmp_path: Path) -> None:
    (tmp_path / "a.toml").write_text(to_toml(bike(wear={"chain_pct": 0.6, "chain_km": 3000.0})))
    data = json.loads(called("report", "a.toml", "--format", "json", cwd=tmp_path).stdout)["wear"]
    assert data["stretch_pct"] == 0.6
    fates = {part["part"]: part["fate"] for part in data["parts"]}
    assert fates == {"chain": "due", "cassette": "doubtful"}
    assert data["costs"]["rate_pct_in_1000_km"] == pytest.approx(0.2)
    assert data["log"] == []


def test_what_is_not_known_of_the_chains_before_is_said() -> None:
    """Only a chain measured when it was changed says how far chains ran on the cassette before it."""
    alone = cassette_verdict(bike(wear={"chain_pct": 0.2}))
    assert alone is not None
    assert alone.fate is Fate.STAYS
    assert alone.say == "this chain ran on it to 0.20 %; how far the ones before did is not given"
    before = cassette_verdict(bike(wear={"chain_pct": 0.2, "changed_at_pct": 0.4}))
    assert before is not None
    assert before.say == "no chain ran on it beyond 0.40 %"


@pytest.mark.parametrize(
    ("was", "now", "new"),
    [("worn", "new", True), ("worn", "good", False), ("new", "new", False), ("new", "worn", False)],
)
def test_a_cassette_is_another_one_when_it_is_new_and_was_not(was: str, now: str, new: bool) -> None:
    before, after = (bike(wear={"cassette_state": state, "rings_state": state}) for state in (was, now))
    assert cassette_renewed(before, after) is new
    assert rings_renewed(before, after) is new


def test_an_order_says_how_to_measure_a_chain_that_nobody_has_measured() -> None:
    """A: 24 links are 304.8 mm; by hand 0.75 % more are 307.086 and 0.4 % more 306.019."""
    for pct, said in ((0.75, "from 307.1 mm (0.75 %)"), (0.4, "from 306.0 mm (0.4 %)")):
        one = bike(chain={"links": 108}, limits={"chain_wear_pct": pct})
        sheet = order_sheet(study(one.model_copy(update={"chain": bike().chain}), one))
        assert sheet is not None
        cautions = " ".join(each for step in sheet.steps for each in step.cautions)
        assert f"24 links measure 304.8 mm new; {said} plan a new chain" in cautions


@pytest.mark.parametrize(
    ("was", "now", "new"),
    [
        ({"chain_pct": 0.5}, {"chain_pct": 0.2}, True),
        ({"chain_pct": 0.5}, {"chain_pct": 0.5}, False),
        ({"chain_km": 900.0}, {"chain_km": 900.0}, False),
        ({"chain_km": 900.0}, {"chain_km": 20.0}, True),
        ({"chain_km": 900.0}, {"chain_km": 950.0}, False),
        ({"chain_pct": 0.5}, {"chain_km": 0.0}, True),
        ({}, {"chain_km": 0.0}, False),
    ],
)
def test_a_chain_is_another_one_when_it_has_shrunk_or_gone_less_far(
    was: dict[str, Any], now: dict[str, Any], new: bool
) -> None:
    assert chain_renewed(bike(wear=was), bike(wear=now)) is new
