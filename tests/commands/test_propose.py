"""Proposals as lines and on the command line."""

import json
import re
import subprocess
from pathlib import Path

import pytest

from cogwright.core.proposing.choices import CassetteChoice
from cogwright.core.proposing.even import even_out
from cogwright.core.proposing.proposal import Proposal
from cogwright.core.proposing.single import single_ring
from cogwright.core.study import study
from cogwright.present.lines import Look, plain, width
from cogwright.present.panels.proposal_reasons import reason_lines
from cogwright.present.panels.proposals import list_head, list_rows
from cogwright.present.panels.search_words import nothing_words
from cogwright.present.report.proposals import propose_text
from support import ROOT, called, make

SETUP = """format = 1
name = "Yard 7 tourer"
[wheel]
rollout_mm = 2189
[crank]
rings = [30, 46]
bolt_circle_mm = 94
[rear]
cogs = [11, 13, 15, 18, 21, 24, 28, 32]
carriers = [[24, 28, 32]]
clicks = 8
smallest_cog = 11
[rear_derailleur]
largest_cog = 34
capacity = 37
[front_derailleur]
largest_ring = 48
difference = 16
[frame]
chainstay_mm = 435
[chain]
links = 110
"""
BIN = """format = 1
name = "Drawers"
currency = "EUR"
[[rings]]
name = "ring 38, 94 mm"
teeth = 38
bolt_circle_mm = 94
price = 22.0
count = 1
[[rings]]
name = "ring 40, 110 mm"
teeth = 40
bolt_circle_mm = 110
price = 9.0
count = 1
[[cogs]]
name = "cog 12"
teeth = 12
price = 4.5
count = 3
[[cogs]]
name = "cog 16"
teeth = 16
price = 5.0
lead_days = 6
[[cogs]]
name = "cog 19 without a price"
teeth = 19
count = 1
[[carriers]]
name = "carrier 23-27-32"
cogs = [23, 27, 32]
price = 14.0
count = 1
[[cassettes]]
name = "cassette 11-40, 8 cogs"
cogs = [11, 13, 15, 18, 22, 27, 33, 40]
price = 45.0
count = 1
[[cassettes]]
name = "cassette 11-32, 8 cogs, even"
cogs = [11, 13, 15, 17, 20, 23, 27, 32]
price = 31.0
count = 1
[[chains]]
name = "chain of 120"
links = 120
price = 12.0
count = 2
[[rear_derailleurs]]
name = "long cage"
largest_cog = 42
capacity = 47
price = 40.0
count = 1
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "seven.toml").write_text(SETUP)
    (tmp_path / "bins").mkdir()
    (tmp_path / "bins" / "drawers.toml").write_text(BIN)
    return tmp_path


def propose(folder: Path, *args: str) -> subprocess.CompletedProcess[str]:
    return called("propose", "seven.toml", *args, cwd=folder)


def as_json(folder: Path, *args: str) -> dict:
    done = propose(folder, *args, "--format", "json")
    assert (done.stderr, done.returncode) == ("", 0)
    return json.loads(done.stdout)


KEYS = {"rings", "cogs", "worst_step_pct", "low_m", "high_m", "cost", "swaps", "problems"}


@pytest.mark.parametrize(
    "args",
    [
        ("--even",),
        ("--single",),
        ("--plan", "--bin", "bins/drawers.toml"),
        ("--even", "--bin", "bins/drawers.toml"),
    ],
)
def test_json_has_the_keys_that_scripts_rely_on(folder: Path, args: tuple[str, ...]) -> None:
    found = as_json(folder, *args)["proposals"]
    assert found
    for one in found:
        assert set(one) >= KEYS
        assert all(set(swap) == {"out", "in"} for swap in one["swaps"])
        of = study(make(one["rings"], one["cogs"], rollout_mm=2189)).summary
        assert one["low_m"] == pytest.approx(of.lowest_m)
        assert one["high_m"] == pytest.approx(of.highest_m)
        assert one["worst_step_pct"] == pytest.approx(of.worst_rear_step_pct)


def test_even_out_of_the_bin_counts_prices_and_buys_whole_cassettes_too(folder: Path) -> None:
    found = as_json(folder, "--even", "--bin", "bins/drawers.toml")["proposals"]
    best = found[0]
    assert best["cogs"] == [11, 13, 15, 17, 20, 23, 27, 32]
    assert best["cost"] == 31.0
    assert best["fits"] == ["cassette 11-32, 8 cogs, even"]
    pinned = as_json(folder, "--even", "--bin", "bins/drawers.toml", "--pin", "24")["proposals"]
    assert all(24 in one["cogs"] and 28 in one["cogs"] for one in pinned)


def test_plan_keeps_to_its_limits(folder: Path) -> None:
    found = as_json(
        folder, "--plan", "--bin", "bins/drawers.toml", "--low-at-most", "1.70", "--cost-at-most", "120"
    )
    assert found["meets"]
    for one in found["proposals"]:
        assert one["low_m"] <= 1.70
        assert one["cost"] <= 120
        assert one["problems"] == []
        assert 40 not in one["rings"], "a ring for another bolt circle"
    assert "cog 19 without a price" in found["notes"][1]


def test_plan_that_nothing_meets_names_the_nearest_miss(folder: Path) -> None:
    done = propose(folder, "--plan", "--bin", "bins/drawers.toml", "--low-at-most", "1.0")
    assert done.returncode == 0
    assert "nothing meets all limits; the nearest miss is this: lowest gear 1.64 m" in done.stdout


def test_a_part_to_order_says_so(folder: Path) -> None:
    found = as_json(folder, "--plan", "--bin", "bins/drawers.toml")["proposals"]
    assert any("cog 16 (to order, 6 days)" in one["fits"] for one in found)


def test_limits_hold_for_single_rings_too(folder: Path) -> None:
    found = as_json(folder, "--single", "--low-at-most", "2.3")["proposals"]
    meets = [one["meets"] for one in found]
    assert meets == sorted(meets, reverse=True)
    assert all(one["meets"] == (one["low_m"] <= 2.3) for one in found)
    assert as_json(folder, "--single", "--low-at-most", "2,3")["proposals"] == found


def test_the_mark_of_a_shared_loss_is_what_scripts_know_and_in_full_as_text(folder: Path) -> None:
    found = as_json(folder, "--single")["proposals"]
    assert sum("splits loss" in one["marks"] for one in found) == 1
    assert "* shares the loss between both ends" in propose(folder, "--single").stdout


def test_the_ring_that_serves_best_on_a_course_is_marked(folder: Path) -> None:
    """Up 5 km at 12 %: any ring grinds longer than the smallest, and there is nothing to spin out on."""
    (folder / "hills.csv").write_text("distance_m,height_m\n0,100\n5000,700\n")
    found = as_json(folder, "--single", "--course", "hills.csv")["proposals"]
    best = [one["rings"] for one in found if "best on course" in one["marks"]]
    assert best == [min(one["rings"] for one in found)]
    assert all(any(" on hills: grinds" in f" {why}" for why in one["reasons"]) for one in found)


@pytest.mark.parametrize(
    ("args", "said"),
    [
        (("--plan", "--no-bin"), "--plan chooses from a bin"),
        ((), "one of the arguments --even --single --plan --pairs --climb --top-speed is required"),
        (("--single", "--pin", "13"), "--pin goes with --even"),
        (("--even", "--single"), "not allowed with argument"),
        (("--even", "--low-at-most", "-1"), "not a number from 0 up"),
        (("--even", "--low-at-most", "nan"), "not a number from 0 up"),
        (("--even", "--low-at-most", "short"), "short is not a number from 0 up"),
        (("--even", "--pin", "200"), "6 to 130"),
        (("--even", "--pin", "big"), "'big' is not a number of teeth, 6 to 130"),
        (("--even", "--most", "all"), "all is not a number of proposals"),
        (("--even", "--low-at-most", "0"), "no gear goes 0 m"),
        (("--even", "--course", "hills.toml"), "--course goes with --single and --plan"),
    ],
)
def test_a_wrong_command_line_is_refused_with_2(folder: Path, args: tuple[str, ...], said: str) -> None:
    done = propose(folder, *args)
    assert done.returncode == 2
    assert said in done.stderr


def test_a_pin_that_is_not_there_is_an_error_of_the_data(folder: Path) -> None:
    done = propose(folder, "--even", "--pin", "19")
    assert (done.returncode, done.stdout) == (1, "")
    assert "no cog of 19 teeth can stay: the cassette has 11 13 15 18" in done.stderr


@pytest.mark.long(cases=2)
@pytest.mark.parametrize(
    "pins", [("--pin", "28 32"), ("--pin", "28,32"), ("--pin", "[32/28]"), ("--pin", "28-32")]
)
def test_pins_are_lists_as_people_write_them(folder: Path, pins: tuple[str, ...]) -> None:
    one_by_one = propose(folder, "--even", "--pin", "28", "--pin", "32", "--format", "json")
    together = propose(folder, "--even", *pins, "--format", "json")
    assert together.returncode == 0, together.stderr
    assert together.stdout == one_by_one.stdout
    free = propose(folder, "--even", "--format", "json")
    assert free.stdout != one_by_one.stdout


def cassettes(folder: Path, *args: str) -> set[tuple[int, ...]]:
    """The cassettes that single rings are tried with."""
    return {tuple(one["cogs"]) for one in as_json(folder, "--single", *args)["proposals"]}


def test_a_cassette_can_be_typed(folder: Path) -> None:
    own = (11, 13, 15, 18, 21, 24, 28, 32)
    assert cassettes(folder, "--cassette", "11 12 14 17 21 26 31 36") == {
        own,
        (11, 12, 14, 17, 21, 26, 31, 36),
    }
    assert cassettes(folder, "--cassette", "36/31/26-21-17-14-12-11") == {
        own,
        (11, 12, 14, 17, 21, 26, 31, 36),
    }


@pytest.mark.long(cases=0)
def test_the_ends_of_a_cassette_are_found_on_the_shelf_and_asked_about_where_several_fit(
    folder: Path,
) -> None:
    own = (11, 13, 15, 18, 21, 24, 28, 32)
    text = (folder / "seven.toml").read_text().replace("carriers = [[24, 28, 32]]\n", "")
    wide = "[11, 12, 14, 17, 21, 26, 31, 37]"
    (folder / "wide.toml").write_text(text.replace(str(list(own)), wide))
    assert cassettes(folder, "--cassette", "11-37") == {own, (11, 12, 14, 17, 21, 26, 31, 37)}
    assert cassettes(folder, "--cassette", "11-37, 8") == {own, (11, 12, 14, 17, 21, 26, 31, 37)}
    (folder / "same.toml").write_text(text.replace(str(list(own)), wide))  # alike: nothing to ask about
    assert cassettes(folder, "--cassette", "11-37") == {own, (11, 12, 14, 17, 21, 26, 31, 37)}
    (folder / "other.toml").write_text(text.replace(str(list(own)), "[11, 13, 16, 19, 23, 27, 32, 37]"))
    done = propose(folder, "--single", "--cassette", "11-37")
    assert (done.returncode, done.stdout) == (1, "")
    assert "11-37 can be 2 cassettes: write the cogs of the one that is meant" in done.stderr
    assert "11 12 14 17 21 26 31 37" in done.stderr
    assert "11 13 16 19 23 27 32 37" in done.stderr
    done = propose(folder, "--single", "--cassette", "11-45")
    assert done.returncode == 1
    assert "there is no cassette 11-45 in the bin or beside the setup" in done.stderr


def test_the_ends_of_a_cassette_are_found_in_the_bin(folder: Path) -> None:
    text = (folder / "bins" / "drawers.toml").read_text()
    there = re.findall(r"\[\[cassettes\]\][^[]*cogs = (\[[0-9, ]+\])", text)[0]
    cogs = tuple(json.loads(there))
    ends = f"{cogs[0]}-{cogs[-1]}"
    assert cogs in cassettes(folder, "--bin", "bins/drawers.toml", "--cassette", ends)


def test_a_bad_bin_is_named_with_its_line(folder: Path) -> None:
    (folder / "bins" / "drawers.toml").write_text(
        'format = 1\nname = "Drawers"\n[[cogs]]\nname = "x"\nteeth = 3\n'
    )
    done = called("propose", "seven.toml", "--plan", "--bin", "bins/drawers.toml", cwd=folder)
    assert done.returncode == 1
    assert "drawers.toml:5" in done.stderr


@pytest.fixture(scope="module")
def single() -> tuple[Proposal, ...]:
    setup = make([30, 46], [11, 13, 15, 18, 21, 24, 28, 32], rollout_mm=2189)
    wide = CassetteChoice((11, 13, 15, 18, 22, 28, 36, 46), (), "cassette 11-46, 8 cogs")
    return single_ring(setup, cassettes=[CassetteChoice.of(setup, on_bike=True), wide])


@pytest.mark.parametrize("room", [40, 60, 80, 120, 200])
def test_lines_keep_to_their_room(single: tuple[Proposal, ...], room: int) -> None:
    look = Look(width=room)
    for each in (list_head(single, look), *list_rows(single, look), *reason_lines(single[3], look)):
        assert width(each) <= room
    for each in propose_text("Single ring", single, look, under="Out of the bin."):
        assert width(each) <= room


def test_columns_stand_under_their_heads(single: tuple[Proposal, ...]) -> None:
    look = Look()
    head = plain(list_head(single, look))
    for row, one in zip(list_rows(single, look), single, strict=True):
        text = plain(row)
        for name, figure in (("low m", f"{one.low_m:.2f}"), ("high m", f"{one.high_m:.2f}")):
            end = head.index(name) + len(name)
            assert text[:end].endswith(figure)


def test_reasons_say_what_is_lost_bought_and_wrong() -> None:
    setup = make([30, 46], [11, 13, 15, 18, 21, 24, 28, 32], rear_derailleur={"largest_cog": 34})
    wide = CassetteChoice((11, 13, 15, 18, 22, 28, 36, 46), (), "cassette 11-46, 8 cogs")
    found = single_ring(setup, cassettes=[wide])
    text = "\n".join(map(plain, reason_lines(found[0], Look())))
    assert "to fit: " in text
    assert "! does not fit: largest cog: 46 teeth where the rear derailleur takes 34" in text


def test_nothing_to_propose_is_said() -> None:
    setup = make([40], [11, 12, 14, 16, 18, 21, 24, 28])
    assert even_out(setup) == ()
    nothing = nothing_words("even", "all tooth counts")
    text = "\n".join(map(plain, propose_text("Even out", (), Look(), nothing=nothing)))
    assert "is more even: none out of all tooth counts" in " ".join(text.split())
    assert list_rows((), Look()) == []
    assert "step %" in plain(list_head((), Look()))


def test_a_single_ring_shows_what_each_end_gains_or_loses(single: tuple[Proposal, ...]) -> None:
    """Against 30/32 and 46/11, by hand: 41/46 / (30/32) is -4.9 %, 41/11 / (46/11) -10.9 %; 36/28 28.6 %."""
    look = Look()
    at = next(i for i, one in enumerate(single) if one.rings == (41,) and one.cogs[-1] == 46)
    assert plain(list_rows(single, look)[at]).split()[5:10] == ["1.95", "-5", "8.16", "-11", "28.6"]
    kept = next(i for i, one in enumerate(single) if one.rings == (46,) and one.cogs[-1] == 32)
    assert plain(list_rows(single, look)[kept]).split()[7:9] == ["9.15", "0"]


def test_text_names_the_source_the_baseline_and_the_currency(folder: Path) -> None:
    text = propose(folder, "--single", "--bin", "bins/drawers.toml").stdout
    assert "Out of Drawers, compared with itself as it stands." in text
    assert " EUR " in text
    assert "to fit: ring 38, 94 mm" in text
    assert "22.00 EUR, and what is without a price" in " ".join(text.split()), "the bolts for one ring"
    text = propose(folder, "--even", "--pin", "13", "--pin", "15", "--pin", "18", "--pin", "21").stdout
    assert "is more even: none out of all tooth counts." in " ".join(text.split())


def test_a_hub_gear_has_nothing_to_even_out(folder: Path) -> None:
    (folder / "hub.toml").write_text(
        'format = 1\nname = "Yard 4"\n[wheel]\nsize = "37-622"\n[crank]\nrings = [42]\n'
        "[rear]\ncogs = [19]\nhub_ratios = [0.733, 1, 1.364]\n"
    )
    done = called("propose", "hub.toml", "--even", cwd=folder)
    assert "nothing to even out: one cog" in done.stdout


@pytest.mark.parametrize(("bike", "found"), [("yard-1-first-trial", 6), ("yard-8-folder", 1)])
def test_the_demo_bin_evens_out_demo_bikes(bike: str, found: int) -> None:
    """11-32 in 8 cogs cannot be more even than 32/27 (the table of test_even.py); Yard 8 gets there."""
    setups = ROOT / "setups"
    done = called(
        "propose", f"{bike}.toml", "--even", "--bin", "bins/hollin-yard.toml", "--format", "json", cwd=setups
    )
    proposals = json.loads(done.stdout)["proposals"]
    assert len(proposals) == found
    if bike == "yard-8-folder":
        assert proposals[0]["worst_step_pct"] == pytest.approx(100 * (32 / 27 - 1))


def test_a_bike_with_one_cog_gets_no_cassette(folder: Path) -> None:
    """A hub gear or single speed has no derailleur, hanger or shifter for one; with one known it may."""
    hub = '[wheel]\nsize = "37-622"\n[crank]\nrings = [38]\n[rear]\ncogs = [18]\nhub_ratios = [0.7, 1, 1.4]\n'
    (folder / "hub.toml").write_text(f'format = 1\nname = "Yard 4"\n{hub}')
    (folder / "one.toml").write_text(
        f'format = 1\nname = "Yard 5"\n{hub}[rear_derailleur]\nlargest_cog = 42\ncapacity = 40\n'
    )
    for goal in ("--plan", "--single"):
        for bike, cogs in (("hub", {1}), ("one", {1, 8})):
            done = called(
                "propose", f"{bike}.toml", goal, "--bin", "bins/drawers.toml", "--format", "json", cwd=folder
            )
            found = json.loads(done.stdout)["proposals"]
            assert {len(one["cogs"]) for one in found} <= cogs
            assert found
    done = called("propose", "one.toml", "--single", "--bin", "bins/drawers.toml", cwd=folder)
    assert "cassette 11-40, 8 cogs" in done.stdout


def test_where_the_bin_has_no_ring_for_the_crank_that_is_said(folder: Path) -> None:
    (folder / "seven.toml").write_text(SETUP.replace("bolt_circle_mm = 94", "bolt_circle_mm = 130"))
    text = propose(folder, "--single", "--bin", "bins/drawers.toml").stdout
    assert "Out of all tooth counts (Drawers: no ring for this crank), compared with" in text


def test_a_fit_that_is_not_known_is_not_called_ok(folder: Path) -> None:
    """The setup of this test says nothing of its spacing family, chain width or chainline."""
    found = as_json(folder, "--single")["proposals"]
    assert {"spacing family", "chain width"} <= set(found[0]["unchecked"])
    text = propose(folder, "--single").stdout
    assert " caut" in text, "two rings become one, and nothing is known to keep the chain on"
    assert "not checked: smallest cog, spacing family, chain width" in " ".join(text.split())
    assert not any(row.rstrip().endswith(" ok") for row in text.splitlines())
    even = propose(folder, "--even").stdout
    assert " unkn" in even or " caut" in even
    assert not any(row.rstrip().endswith(" ok") for row in even.splitlines())


def test_a_single_speed_has_no_click_to_speak_of(folder: Path) -> None:
    (folder / "one.toml").write_text(
        'format = 1\nname = "Yard 5"\n[wheel]\nsize = "37-622"\n[crank]\nrings = [44]\n[rear]\ncogs = [18]\n'
    )
    done = called("propose", "one.toml", "--plan", "--bin", "bins/drawers.toml", cwd=folder)
    assert "there is no click to make" in done.stdout
    assert "0.0 %" not in done.stdout


def test_most_lists_so_many_and_says_how_many_there_are_more(folder: Path) -> None:
    found = as_json(folder, "--single")["proposals"]
    assert len(found) > 3
    assert as_json(folder, "--single", "--most", "3")["proposals"] == found[:3]
    text = propose(folder, "--single", "--most", "3").stdout
    assert f"{len(found) - 3} more: --most {len(found)} lists all." in text
    ranks = [row.split()[0] for row in text.splitlines() if row.strip()[:2].strip().isdigit()]
    assert ranks[:3] == ["1", "2", "3"]
    assert "4" not in ranks


def test_what_is_rare_is_named_so_and_neither_listed_nor_explained_for_that_alone() -> None:
    """The demo's tourer out of all tooth counts: 29 and 27 stand below the twelfth and are only rare."""
    bike = ROOT / "setups" / "yard-1-two-rings.toml"
    found = json.loads(called("propose", bike, "--single", "--format", "json").stdout)["proposals"]
    notable = [at for at, one in enumerate(found, 1) if set(one["marks"]) - {"rare"}]
    rows = called("propose", bike, "--single").stdout.splitlines()
    head = next(at for at, row in enumerate(rows) if row.split()[:2] == ["#", "rings"])
    table = rows[head + 1 : rows.index("", head)]
    assert [int(row[:2]) for row in table] == [*range(1, 13), *(at for at in notable if at > 12)]
    assert any("rare" in row for row in table)
    told = [int(row) for row in rows if row.strip().isdigit()]
    assert told == [at for at in sorted({1, *notable}) if at <= 12]
