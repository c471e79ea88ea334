"""The fit checks, the chain's states and the parts of the report that hold them."""

import json
import math
from typing import Any

import pytest

from bikes import COGS, FACTS, bike, check
from cogwright.core.chain.axle import right_pairs
from cogwright.core.chain.length import textbook_pitches
from cogwright.core.chain.line import COG_PITCH_MM
from cogwright.core.chain.slack import ChainState
from cogwright.core.fit.chain import OUTER_WIDTH_MM
from cogwright.core.fit.check import Status
from cogwright.core.fit.registry import CHECKS, headline_problems
from cogwright.core.setup.edits import AddSprocket, RemoveSprocket
from cogwright.core.setup.model import Chain, Setup
from cogwright.core.study import Study, study
from cogwright.present.lines import Look, plain
from cogwright.present.report.fit_data import fit_json
from cogwright.present.views.fit import fit_lines, fit_summary
from support import called, make


def names(setup: Setup) -> set[str]:
    return {c.check for c in study(setup).fit}


def test_a_bike_that_goes_together() -> None:
    found = study(bike(limits={"chain_angle_deg": 4.0}))
    assert {c.check: c.status for c in found.fit if c.status is not Status.OK} == {}
    assert fit_summary(found) == "fit: ok"
    assert headline_problems(found) == ()


def test_every_check_says_what_to_do_when_its_fact_is_missing() -> None:
    bare = study(make((34, 46), COGS))
    assert {c.status for c in bare.fit} == {Status.UNKNOWN}
    assert all(c.say.startswith("needs ") and "in the setup" in c.say for c in bare.fit)
    assert len(bare.fit) >= 11
    assert len(CHECKS) >= 18


@pytest.mark.parametrize(
    ("name", "changed", "status"),
    [
        ("largest cog", {"rear_derailleur": {"largest_cog": 33}}, Status.PROBLEM),
        ("largest cog", {"rear_derailleur": {"largest_cog": 34}}, Status.OK),
        ("smallest cog", {"rear_derailleur": {"smallest_cog": 12}}, Status.CAUTION),
        ("capacity", {"rear_derailleur": {"capacity": 34}}, Status.PROBLEM),
        ("capacity", {"rear_derailleur": {"capacity": 35}}, Status.OK),
        ("front difference", {"front_derailleur": {"difference": 11}}, Status.PROBLEM),
        ("front difference", {"front_derailleur": {"difference": 12}}, Status.OK),
        ("largest ring", {"front_derailleur": {"largest_ring": 45}}, Status.PROBLEM),
        ("frame clearance", {"frame": {"largest_ring": 44}}, Status.PROBLEM),
        ("frame clearance", {"frame": {"largest_ring": 46}}, Status.OK),
        ("freehub driver", {"rear": {"smallest_cog": 13}}, Status.PROBLEM),
        ("clicks", {"rear": {"clicks": 10}}, Status.PROBLEM),
        ("clicks", {"rear": {"clicks": 12}}, Status.CAUTION),
        ("spacing family", {"shifters": {"family": "narrow"}}, Status.PROBLEM),
        ("spacing family", {"shifters": {"family": None}}, Status.UNKNOWN),
        ("chain width", {"chain": {"outer_width_mm": 7.1}}, Status.PROBLEM),
        ("chain width", {"chain": {"outer_width_mm": 5.2}}, Status.CAUTION),
        ("chain width", {"limits": {"chain_width_mm": [5.0, 5.4]}}, Status.PROBLEM),
        ("bolt circle", {"crank": {"bolt_circle_mm": 130.0}}, Status.PROBLEM),
        ("bolt circle", {"crank": {"bolt_circle_mm": 130.0}, "limits": {"smallest_ring": 34}}, Status.OK),
        ("chain angle", {"limits": {"chain_angle_deg": 1.0}}, Status.CAUTION),
        ("chain angle", {"limits": {"chain_angle_deg": 4.0}}, Status.OK),
    ],
)
def test_limits(name: str, changed: dict[str, Any], status: Status) -> None:
    assert check(bike(**changed), name).status is status


def test_capacity_is_both_differences_together() -> None:
    # P: (big - small ring) + (big - small cog): (46 - 34) + (34 - 11) = 35.
    found = check(bike(), "capacity")
    assert (found.figure, found.limit, found.unit) == (35, 39, "teeth")


def test_checks_that_do_not_apply_stay_away() -> None:
    single = bike(
        (42,), (17,), rear={"carriers": None}, rear_derailleur=dict.fromkeys(FACTS["rear_derailleur"])
    )
    gone = {
        "capacity",
        "largest cog",
        "front difference",
        "largest ring",
        "clicks",
        "spacing family",
        "rollout",
    }
    assert not names(single) & gone
    assert "axle travel" in names(single)
    assert "axle travel" not in names(bike())


def test_the_smallest_ring_of_three_has_a_bolt_circle_of_its_own() -> None:
    triple = bike((24, 34, 46), crank={"inner_bolt_circle_mm": 74.0})
    assert check(triple, "bolt circle").status is Status.OK
    assert check(bike((24, 34, 46)), "bolt circle").status is Status.PROBLEM
    assert check(bike((24, 30, 46), crank={"inner_bolt_circle_mm": 74.0}), "bolt circle").figure == 30


def test_defaults_of_the_trade_are_marked_and_those_of_the_setup_are_not() -> None:
    assert "common practice" in check(bike(), "chain angle").say
    assert "common practice" in check(bike(), "chain width").say
    assert "common practice" in check(bike(), "bolt circle").say
    own = {
        "crank": {"ring_spacing_mm": 7.0},
        "rear": {"chainline_mm": 45.0, "cog_pitch_mm": 3.7},
        "limits": {"chain_angle_deg": 3.0, "chain_width_mm": [5.4, 5.7]},
    }
    assert "common practice" not in check(bike(**own), "chain angle").say
    assert "common practice" not in check(bike(**own), "chain width").say


def test_a_limit_of_ours_is_marked_where_the_sentence_is_not_shown() -> None:
    ok = bike(limits={"chain_angle_deg": 4.0})
    rows = [plain(row) for row in fit_lines(study(ok), Look(80))]
    starred = {row[11:27].strip() for row in rows if " * " in f"{row} " and not row.startswith(" *")}
    assert starred == {"chain length", "chain slack", "bolt circle", "chain width", "chain angle"}
    assert any(row.startswith(" * common practice or an estimate") for row in rows)
    own = {
        "crank": {"ring_spacing_mm": 7.0},
        "rear": {"chainline_mm": 45.0, "cog_pitch_mm": 3.7},
        "limits": {"chain_angle_deg": 4.0, "chain_width_mm": [5.4, 5.7], "smallest_ring": 33},
    }
    told = study(bike(**own)).fit
    assert {c.check for c in told if c.default} == {"chain length", "chain slack"}


def test_an_unusual_bead_seat_is_a_caution_and_a_known_one_no_check() -> None:
    # A: 622 stands in ISO 5775's list of bead seat diameters in use, 623 does not.
    odd = check(make((34, 46), COGS, size="40-623"), "bead seat")
    assert (odd.status, odd.figure, odd.unit) == (Status.CAUTION, 623, "mm")
    assert odd.say.endswith("read the marking on the tyre again, or measure rollout_mm")
    assert "bead seat" not in names(bike())


def test_trade_tables_are_the_trade_s() -> None:
    # P: outer width and cog pitch by number of cogs (common practice, no source).
    widths = {8: (7.1, 7.3), 9: (6.6, 6.7), 10: (5.9, 6.1), 11: (5.5, 5.6), 12: (5.2, 5.3)}
    assert {n: OUTER_WIDTH_MM[n] for n in widths} == widths
    ranges = {8: (4.8, 4.8), 9: (4.34, 4.34), 10: (3.95, 3.95), 11: (3.7, 3.9), 12: (3.5, 3.65)}
    assert all(low <= COG_PITCH_MM[n] <= high for n, (low, high) in ranges.items())


def test_chain_angle_by_hand() -> None:
    # Two rings 7.5 mm apart on a chainline of 45 mm stand at 41.25 and 48.75 mm; eleven cogs 3.8 mm apart,
    # centred there, end at 26 and 64 mm. The big ring with the big cog: 48.75 - 26 = 22.75 mm on 435 mm.
    found = {(a.ring, a.cog): a for a in study(bike()).chainline.angles}
    assert found[46, 34].degrees == pytest.approx(math.degrees(math.atan(22.75 / 435)))
    assert found[46, 34].offset_mm == pytest.approx(-22.75)
    assert found[34, 11].offset_mm == pytest.approx(22.75)
    assert found[46, 19].degrees == pytest.approx(math.degrees(math.atan(0.05 / 435)))


def test_gears_to_avoid_are_the_crossed_ones() -> None:
    assert [a.label for a in study(bike()).chainline.avoid] == ["46x34", "34x11"]


def test_riveted_carriers_leave_whole() -> None:
    swapped = bike(cogs=(11, 13, 15, 17, 19, 21, 23, 26, 28, 31, 34))
    found = check(swapped, "riveted carriers")
    assert found.status is Status.PROBLEM
    assert "25 is riveted to 23 and 28: the whole carrier must be changed" in found.say
    gone = bike(cogs=(11, 13, 15, 17, 19, 21, 24, 27, 30, 33, 36))
    assert check(gone, "riveted carriers").status is Status.OK
    between = bike(cogs=(11, 13, 15, 17, 19, 21, 23, 24, 25, 28, 31, 34))
    assert "24 cannot stand between 23 and 28" in check(between, "riveted carriers").say


def test_a_carrier_that_has_left_whole_does_not_bind_a_loose_cog_put_on_later() -> None:
    setup = bike()
    for cog in (23, 25, 28):
        setup = RemoveSprocket("cog", cog).apply(setup)
    assert check(AddSprocket("cog", 25).apply(setup), "riveted carriers").status is Status.OK


def test_carriers_of_the_baseline_count_as_well() -> None:
    loose = bike(cogs=(11, 13, 15, 17, 19, 21, 23, 26, 28, 31, 34), rear={"carriers": None})
    assert "riveted carriers" not in names(loose)
    found = check(study(loose, bike()), "riveted carriers")
    assert found.status is Status.CAUTION
    assert "23 and 28 come off the baseline's riveted 23-25-28" in found.say
    own = bike(cogs=(11, 13, 15, 17, 19, 21, 23, 26, 28, 31, 34), rear={"carriers": [[23, 26, 28]]})
    assert check(study(own, bike()), "riveted carriers").status is Status.OK, "on a carrier of its own"


def test_a_short_chain_stands_over_every_view() -> None:
    found = study(bike(chain={"links": 108}))
    assert found.chain.fit_pitches == 112
    assert found.chain.short_by == 4
    (said,) = headline_problems(found)
    assert said == "this chain is 4 links short: derailleur or hanger can be torn off on 46x34"
    assert len(said) <= 77  # the head sets three cells before it
    assert check(found, "chain length").status is Status.PROBLEM
    states = {(g.ring, g.cog): g.state for g in found.chain.per_gear}
    assert states[46, 34] is ChainState.SHORT
    assert states[46, 31] is ChainState.TIGHT
    assert states[34, 11] is ChainState.FITS
    assert fit_summary(found) == "fit: 1 problem, 1 caution, chain 4 links short"


def test_big_big_plus_two_to_an_even_number() -> None:
    # P: big-big plus two pitches, up to an even number. 46x34 on 435 mm by the handbook's form:
    # 2 * 435 / 12.7 + 40 + (12 / 2 pi)^2 * 12.7 / 435 = 108.61; plus two is 110.61, so 112.
    chain = study(bike()).chain
    assert chain.needed_pitches == pytest.approx(108.61, abs=0.01)
    assert chain.fit_pitches == 112


@pytest.mark.parametrize(
    ("links", "status"),
    [
        (109, Status.PROBLEM),
        (110, Status.CAUTION),
        (111, Status.CAUTION),
        (112, Status.OK),
        (118, Status.CAUTION),
    ],
)
def test_chain_lengths_around_the_right_one(links: int, status: Status) -> None:
    assert check(bike(chain={"links": links}), "chain length").status is status


def test_a_long_chain_says_to_how_many_pitches() -> None:
    long = study(bike(chain={"links": 118}))
    assert long.chain.cut_to == 112
    assert "6 links too long, cut to 112" in check(long, "chain length").say
    assert "34x11" in check(long, "chain slack").say
    roomy = study(bike(chain={"links": 114}, rear_derailleur={"capacity": 45}))
    assert roomy.chain.cut_to is None
    assert check(roomy, "chain length").status is Status.OK


def test_suspension_takes_the_stay_at_its_longest() -> None:
    rigid, sprung = study(bike()), study(bike(frame={"suspension_growth_mm": 25.4}))
    assert rigid.chain.needed_pitches is not None
    # Two strands 25.4 mm longer are 4 pitches, but for the lean of the strands.
    assert sprung.chain.needed_pitches == pytest.approx(rigid.chain.needed_pitches + 4, abs=0.01)
    assert sprung.chain.fit_pitches == 116
    assert sprung.chain.short_by == 4


def test_a_chain_hangs_lowest_where_the_stay_is_shortest() -> None:
    # The stay grows by two pitches' length: the same chain is tighter at its longest, never slacker.
    sprung = study(
        bike(chain={"links": 114}, frame={"suspension_growth_mm": 12.7}, rear_derailleur={"capacity": 33})
    )
    rigid = study(bike(chain={"links": 114}, rear_derailleur={"capacity": 33}))
    assert [g.label for g in sprung.chain.hanging] == [g.label for g in rigid.chain.hanging] != []


def test_missing_facts_are_named_and_nothing_is_made_up() -> None:
    found = study(bike(frame={"chainstay_mm": None}, chain={"links": None}))
    assert found.chain.missing == ("frame.chainstay_mm", "chain.links")
    assert found.chain.needed_pitches is found.chain.fit_pitches is None
    assert found.chain.per_gear == ()
    assert headline_problems(found) == ()


def test_sprockets_that_touch_are_a_problem_not_a_crash() -> None:
    found = study(bike((120,), (100,), frame={"chainstay_mm": 300.0}))
    assert "would touch" in check(found, "chain length").say
    assert found.chain.per_gear == ()


@pytest.fixture
def single() -> Setup:
    nothing = dict.fromkeys(FACTS["rear_derailleur"])
    return bike((42,), (17,), rear={"carriers": None}, rear_derailleur=nothing, frame={"chainstay_mm": 410.0})


def test_one_cog_and_no_tensioner_has_no_allowance(single: Setup) -> None:
    chain = study(single).chain
    assert not chain.tensioned
    assert chain.needed_pitches is not None
    assert chain.fit_pitches == 2 * math.ceil(chain.needed_pitches / 2)


@pytest.mark.parametrize(
    ("travel", "links", "status"),
    [
        (None, 96, Status.UNKNOWN),
        (20.0, 96, Status.OK),
        (3.0, 96, Status.PROBLEM),
        (20.0, 94, Status.PROBLEM),
    ],
)
def test_axle_travel(single: Setup, travel: float | None, links: int, status: Status) -> None:
    frame = single.frame.model_copy(update={"axle_travel_mm": travel})
    chained = single.chain.model_copy(update={"links": links})
    found = study(single.model_copy(update={"frame": frame, "chain": chained}))
    moved = check(found, "axle travel")
    assert (moved.status, moved.unit, moved.limit) == (status, "mm", travel)
    assert check(found, "chain length").status is (Status.OK if links == 96 else Status.CAUTION)
    assert found.axle is not None
    assert (found.axle.move_mm > 0) == (links == 96)


def test_an_axle_that_moves_by_less_than_a_millimetre_still_moves_back(single: Setup) -> None:
    """On 410 mm it moves 9.1 mm (below); on a stay 8.6 mm longer half a millimetre is left of that."""
    frame = single.frame.model_copy(update={"chainstay_mm": 418.6})
    chained = single.chain.model_copy(update={"links": 96})
    moved = check(study(single.model_copy(update={"frame": frame, "chain": chained})), "axle travel")
    assert moved.figure == pytest.approx(0.5, abs=0.15)
    assert "the axle moves back 0." in moved.say


def test_a_single_speed_says_its_axle_s_way_and_what_to_do_when_it_is_too_short(single: Setup) -> None:
    # 42x17 on 410 mm by the handbook's form: 2 * 410 / 12.7 + 29.5 + (25 / 2 pi)^2 * 12.7 / 410 = 94.56:
    # 96 pitches leave 1.44, which is about 1.44 * 12.7 / 2 = 9.1 mm of axle.
    def fitted(links: int | None, travel: float) -> Study:
        frame = single.frame.model_copy(update={"axle_travel_mm": travel})
        return study(single.model_copy(update={"frame": frame, "chain": Chain(links=links)}))

    assert check(fitted(96, 20), "axle travel").figure == pytest.approx(9.1, abs=0.1)
    assert check(fitted(96, 3), "axle travel").say.endswith("goes back 3 mm only: take another ring or cog")
    assert "fit a chain of 96 links" in check(fitted(98, 20), "axle travel").say
    assert "takes 96 links" in check(fitted(None, 20), "chain length").say
    assert check(fitted(95, 20), "chain length").status is Status.CAUTION


def test_pairs_that_are_right_as_the_axle_stands() -> None:
    # Brute force by the handbook's form: spare length that lets a 410 mm strand move 20 mm up and down.
    for stay in range(405, 425):
        room = 2 * (math.hypot(stay / 2, 10.0) - stay / 2) / 12.7
        near = {
            (ring, cog)
            for ring in range(36, 49)
            for cog in range(13, 22)
            if -textbook_pitches(ring, cog, stay) % 2 < room - 0.003
        }
        found = right_pairs(42, 17, stay)
        assert len(found) >= min(len(near), 5)
        for pair in found:
            spare = pair.pitches - textbook_pitches(pair.ring, pair.cog, stay)
            assert -0.003 < spare < room + 0.003
            assert pair.pitches % 2 == 0


@pytest.mark.parametrize(
    ("rings", "cogs", "limit", "over", "legal"),
    [
        # A: juniors 7.93 m, UCI art. 2.2.023: 52x14 passes and 53x11 fails; 53x14 fails by 5 mm on 2.096 m.
        ((52,), (11, 14), 7.93, ["52x11"], "52x14"),
        ((53,), (14, 15), 7.93, ["53x14"], "53x15"),
        # A: British youth table before March 2025: 42x14 passes 6.45 m, 48x17 6.05 m on 23-622.
        ((42,), (13, 14), 6.45, ["42x13"], "42x14"),
        ((48,), (15, 16, 17), 6.05, ["48x16", "48x15"], "48x17"),
    ],
)
def test_race_limits(
    rings: tuple[int, ...], cogs: tuple[int, ...], limit: float, over: list[str], legal: str
) -> None:
    measured = make(rings, cogs, rollout_mm=2096, limits={"rollout_m": limit})
    found = study(measured).scrutiny
    assert found is not None
    assert [g.label for g in found.over] == over
    assert [g.label for g in found.block] == over
    assert found.largest_legal is not None
    assert found.largest_legal.label == legal
    assert check(measured, "rollout").status is Status.PROBLEM


def test_a_nominal_wheel_near_the_limit_is_too_close_to_call() -> None:
    # A: printed example that fails its own limit: 49x19 at 5.40 m on 23-622.
    found = check(make((49,), (19,), size="23-622", limits={"rollout_m": 5.40}), "rollout")
    assert found.status is Status.CAUTION
    assert "too close to call: measure it" in found.say


def test_the_unit_of_riveted_carriers_is_what_scripts_know() -> None:
    swapped = study(bike(cogs=(11, 13, 15, 17, 19, 21, 23, 26, 28, 31, 34)))
    (said,) = [one for one in fit_json(swapped) if one["check"] == "riveted carriers"]
    assert (said["figure"], said["unit"]) == (1.0, "broken carriers")


def test_report_holds_the_promised_keys(tmp_path: Any) -> None:
    file = tmp_path / "bike.toml"
    file.write_text(
        'format = 1\nname = "A"\n[wheel]\nsize = "40-622"\n'
        "[crank]\nrings = [34, 46]\n[rear]\ncogs = [11, 17, 34]\n"
        "[frame]\nchainstay_mm = 435\n[chain]\nlinks = 100\n"
    )
    done = called("report", file, "--format", "json")
    data = json.loads(done.stdout)
    assert all(set(c) == {"check", "status", "figure", "limit", "unit", "say"} for c in data["fit"])
    assert {c["status"] for c in data["fit"]} <= {"ok", "caution", "problem", "unknown"}
    units = {c["check"]: c["unit"] for c in data["fit"]}
    assert units["chain length"] == "pitches", "as scripts know it; the screen says links"
    chain = data["chain"]
    assert (chain["fit_pitches"], chain["installed"]) == (112, 100)
    assert chain["needed_pitches"] == pytest.approx(108.61, abs=0.01)
    big = chain["per_gear"][-1] | {}
    assert {"ring", "cog", "pitches", "slack"} <= set(big)
    largest = next(g for g in chain["per_gear"] if (g["ring"], g["cog"]) == (46, 34))
    assert largest["slack"] == pytest.approx(100 - chain["needed_pitches"], abs=1e-5)
    text = called("report", file).stdout
    assert "this chain is 12 links short" in text.split("rings", maxsplit=1)[0].replace("\n  ", " ")
    file.write_text(file.read_text().split("[frame]", maxsplit=1)[0])
    bare = json.loads(called("report", file, "--format", "json").stdout)["chain"]
    assert bare["needed_pitches"] is bare["fit_pitches"] is bare["installed"] is None
    assert bare["per_gear"] == []
