"""Race limits against the rules' own examples. Metres are the rule; tooth pairs in print are only examples.

Grades: A seen in a stored copy of the source.
"""

import pytest

from cogwright.core.gears.rollout import RolloutVerdict
from cogwright.core.study import study
from support import make

#: Circumference that the examples are reckoned with where the rule names none: 23-622 in setting tables (A).
PRINTED_23_622 = 2096


def verdict(ring: int, cog: int, limit_m: float, rollout_mm: float = PRINTED_23_622) -> RolloutVerdict:
    row = study(make([ring], [cog], rollout_mm=rollout_mm, limits={"rollout_m": limit_m})).rows[0]
    assert row.verdict is not None
    return row.verdict


def nominal_verdict(ring: int, cog: int, limit_m: float, size: str = "23-622") -> RolloutVerdict:
    row = study(make([ring], [cog], size=size, limits={"rollout_m": limit_m})).rows[0]
    assert row.verdict is not None
    return row.verdict


@pytest.mark.parametrize(("ring", "cog"), [(52, 14), (51, 14), (53, 15)])
def test_juniors_793_pass(ring: int, cog: int) -> None:
    """A: juniors 7.93 m, UCI art. 2.2.023, in force to 31 December 2022."""
    assert verdict(ring, cog, 7.93) is RolloutVerdict.PASS


@pytest.mark.parametrize(("ring", "cog"), [(53, 11), (53, 14)])
def test_juniors_793_fail(ring: int, cog: int) -> None:
    """A: the same article; 53x14 fails by 5 mm on a circumference of 2.096 m."""
    assert verdict(ring, cog, 7.93) is RolloutVerdict.FAIL


def test_53x14_fails_by_five_millimetres() -> None:
    gear = study(make([53], [14], rollout_mm=2096)).gears[0]
    assert gear.development_m - 7.93 == pytest.approx(0.005, abs=0.0005)


#: A: British youth limits before 1 March 2025, m, with printed pairs that pass on 23-622.
YOUTH = [(6.93, 42, 13), (6.93, 52, 16), (6.45, 42, 14), (6.05, 48, 17)]


@pytest.mark.parametrize(("limit", "ring", "cog"), YOUTH)
def test_youth_pairs_pass(limit: float, ring: int, cog: int) -> None:
    assert verdict(ring, cog, limit) is RolloutVerdict.PASS


#: A: printed examples of the same table that fail their own limit on a 23-622 wheel; by how much, and so what
#: can be said of them on a wheel known by its marking only.
TRAPS = [
    (5.40, 49, 19, RolloutVerdict.TOO_CLOSE),
    (5.10, 39, 16, RolloutVerdict.TOO_CLOSE),
    (5.10, 48, 19, RolloutVerdict.FAIL),
]


@pytest.mark.parametrize(("limit", "ring", "cog", "nominal"), TRAPS)
def test_printed_examples_that_fail_their_own_limit(
    limit: float, ring: int, cog: int, nominal: RolloutVerdict
) -> None:
    assert verdict(ring, cog, limit) is RolloutVerdict.FAIL
    assert nominal_verdict(ring, cog, limit) is nominal


def test_the_2025_test_limit_turns_on_the_wheel() -> None:
    """A: 10.46 m: 54x11 passes on a circumference of 2.1300 m and fails on 2.136 m."""
    assert verdict(54, 11, 10.46, 2130.0) is RolloutVerdict.PASS
    assert verdict(54, 11, 10.46, 2136.0) is RolloutVerdict.FAIL


def test_a_nominal_wheel_far_from_the_limit_is_decided() -> None:
    assert nominal_verdict(53, 11, 7.93) is RolloutVerdict.FAIL
    assert nominal_verdict(39, 19, 7.93) is RolloutVerdict.PASS


def test_flags_name_the_verdicts() -> None:
    rows = study(make([53], [11, 14, 25], size="23-622", limits={"rollout_m": 7.93})).rows
    flags = {row.gear.label: set(row.flags) for row in rows}
    assert "over-rollout" in flags["53x11"]
    assert "measure-rollout" in flags["53x14"]
    assert flags["53x25"].isdisjoint({"over-rollout", "measure-rollout"})
