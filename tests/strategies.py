"""Hypothesis strategies of several tests: any setup that a file can hold, and text that means harm."""

from typing import Any

from hypothesis import strategies as st

from cogwright.core.setup.model import MAX_TEETH, MIN_TEETH, Setup

#: Text as it comes: markup, escapes, controls, direction overrides, wide characters, stacked marks.
NASTY = (
    "[b]x[/b]",
    "[/",
    "[@click=app.quit]x[/]",
    "\x1b[2J\x1b]0;gone\x07",
    "\x9b31m",
    "\x00\x07\x08\x7f",
    "\u202egnirts\u202c",
    "\u2066\u200b\u200d\ufeff",
    "e\u0301\u0302\u0303\u0304\u0305\u0306",
    "\u6f22\u5b57\uff21",
    "\U0001f468\u200d\U0001f527\ufe0f",
    "\u1100\u1161\u11a8",
    "=cmd|' /C calc'!A0",
    "-1+1",
    "@SUM(A1)",
    "{0}{x}%s%n",
    "a\nb\rc\td",
    '"""',
    "'''",
    "\\",
    "#",
)
any_text = st.text(max_size=30) | st.lists(st.sampled_from(NASTY), max_size=3).map("".join)
hostile_text = st.lists(st.sampled_from(NASTY) | st.text(max_size=8), max_size=5).map("".join)

teeth = st.integers(MIN_TEETH, MAX_TEETH)


def number(low: float, high: float) -> st.SearchStrategy[float]:
    """A finite number between two limits, often a round one."""
    whole = st.integers(-(-int(low * 100) // 100), int(high)) if high - low >= 2 else st.nothing()
    return st.floats(low, high) | whole.filter(lambda n: low <= n <= high)


def one_or_more(low: float, high: float) -> st.SearchStrategy[Any]:
    """A number for all gaps, or a list of one a gap."""
    return number(low, high) | st.lists(number(low, high), min_size=1, max_size=14)


def table(**keys: st.SearchStrategy[Any]) -> st.SearchStrategy[dict[str, Any]]:
    """A table of a file; any of its keys may be missing."""
    return st.fixed_dictionaries({}, optional=keys)


names = hostile_text.map(lambda text: "Yard " + text)
families = names | st.just("ten-cog")


@st.composite
def _rear(draw: st.DrawFn) -> dict[str, Any]:
    cogs = draw(st.lists(teeth, min_size=1, max_size=14, unique=True))
    found = draw(
        table(
            clicks=st.integers(1, 30),
            smallest_cog=teeth,
            hub_ratios=st.lists(number(0.1, 10), min_size=1, max_size=14, unique_by=float),
            chainline_mm=number(20, 80),
            cog_pitch_mm=one_or_more(2, 10),
            spacer_mm=number(-30, 30),
            family=families,
            least_ratio=number(0.3, 6),
            least_ratio_motor=number(0.3, 6),
            most_torque_nm=number(10, 1000),
            fixed=st.booleans(),
        )
    )
    if len(cogs) >= 4 and draw(st.booleans()):
        found["carriers"] = [cogs[:2], cogs[2:4]]
    return {"cogs": cogs, **found}


_crank = st.fixed_dictionaries(
    {"rings": st.lists(teeth, min_size=1, max_size=4, unique=True)},
    optional={
        "length_mm": number(50, 300),
        "bolt_circle_mm": number(30, 200),
        "bolts": st.integers(3, 6),
        "chainline_mm": number(20, 80),
        "ring_spacing_mm": one_or_more(3, 20),
        "spacer_mm": number(-30, 30),
        "bottom_bracket_mm": number(-30, 30),
        "ring_offset_mm": number(-30, 30),
        "retaining_teeth": st.booleans(),
    },
)
_wheel = st.fixed_dictionaries({"rollout_mm": number(300, 4000)}) | st.fixed_dictionaries(
    {"size": st.sampled_from(["40-622", "23-622", "47.5-559", "37 - 590"])},
    optional={"rollout_mm": number(300, 4000)},
)
_rider = table(
    mass_kg=number(20, 250),
    crank_torque_nm=number(10, 1000),
    bike_kg=number(3, 100),
    power_w=number(20, 2000),
    cadence_rpm=st.tuples(number(20, 60), number(61, 90), number(91, 250)).map(list),
    cda_m2=number(0.05, 2),
    crr=number(0.0005, 0.1),
    height_m=number(-430, 6000),
)
_limits = table(
    jump_pct=number(1, 100),
    overlap_pct=number(0, 20),
    rollout_m=number(1, 30),
    chain_angle_deg=number(0.5, 10),
)
_log_entry = st.fixed_dictionaries({"date": st.dates(), "what": names}, optional={"km": number(0, 100_000)})
#: What a setup file holds, as tomllib gives it.
setup_data = st.fixed_dictionaries(
    {"name": names, "wheel": _wheel, "crank": _crank, "rear": _rear()},
    optional={
        "format": st.just(1),
        "notes": hostile_text,
        "rear_derailleur": table(
            largest_cog=teeth,
            smallest_cog=teeth,
            capacity=st.integers(0, 100),
            family=families,
            shift_ratio=number(0.2, 5),
            cage_mm=number(46, 250),
            cage_drop_mm=number(0, 300),
            b_gap_mm=number(0, 60),
            b_gap_cog=teeth,
            clutch=st.booleans(),
        ),
        "front_derailleur": table(
            largest_ring=teeth,
            difference=st.integers(0, 60),
            smallest_difference=st.integers(0, 60),
            shift_ratio=number(0.2, 10),
            reach_mm=number(2, 60),
            curve_teeth=st.lists(teeth, min_size=2, max_size=2).map(sorted),
        ),
        "shifters": table(family=families, pull_mm=one_or_more(0.2, 30), front_pull_mm=one_or_more(0.2, 30)),
        "frame": table(
            chainstay_mm=number(200, 1500),
            suspension_growth_mm=number(0, 100),
            hanger_extension_mm=number(1, 80),
            chain_guide=st.booleans(),
            tensioner_links=number(0, 20),
        ),
        "chain": table(
            links=st.integers(20, 400),
            outer_width_mm=number(4, 15),
            cogs=st.integers(1, 30),
            joint_cogs=st.integers(1, 30),
            joint_width_mm=number(4, 15),
            joint_uses=st.integers(0, 100),
            joint_most_uses=st.integers(1, 100),
            half_link=st.booleans(),
            most_load_n=number(500, 50_000),
        ),
        "belt": table(pitch_mm=number(3, 30), teeth=st.integers(20, 1000), most_offset_mm=number(0, 20)),
        "motor": table(
            crank_torque_nm=number(0, 500),
            wheel_torque_nm=number(0, 1000),
            power_w=number(10, 20_000),
            cutoff_kmh=number(3, 200),
            cadence_rpm=number(20, 250),
        ),
        "timing_chain": table(
            rings=st.tuples(teeth, teeth).map(list),
            centres_mm=number(200, 1500),
            eccentric_mm=number(0, 50),
            links=st.integers(20, 600),
            stretch_pct=number(0, 5),
        ),
        "wear": table(
            chain_pct=number(0, 5),
            chain_12_links_mm=number(303, 320),
            chain_km=number(0, 50_000),
            changed_at_pct=number(0, 5),
            cassette_km=number(0, 50_000),
            cassette_state=st.sampled_from(["new", "good", "worn", "hooked"]),
            rings_km=number(0, 50_000),
            rings_state=st.sampled_from(["new", "good", "worn", "hooked"]),
            chain_price=number(0, 100),
            cassette_price=number(0, 300),
            rings_price=number(0, 300),
        ),
        "rider": _rider,
        "limits": _limits,
        "log": st.lists(_log_entry, max_size=3),
    },
)
#: Any setup.
setups = setup_data.map(Setup.model_validate)
