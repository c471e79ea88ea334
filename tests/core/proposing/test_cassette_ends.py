"""What variants of a cassette share: the spacing of the bike goes only with as many cogs as it has."""

from cogwright.core.proposing.choices import CassetteChoice
from cogwright.core.proposing.space import Ends

SIX = CassetteChoice((12, 14, 17, 21, 25, 29), name="six")
SPACED = CassetteChoice((12, 14, 17, 21, 25, 29), name="six", cog_pitch_mm=4.8)


def test_a_cassette_that_says_no_spacing_takes_the_bikes_for_as_many_cogs() -> None:
    assert Ends(SIX, 6, 5.5).of(SIX.cogs).pitch == 5.5
    assert Ends(SIX, 7, 5.5).of(SIX.cogs).pitch is None
    assert Ends(SPACED, 6, 5.5).of(SPACED.cogs).pitch == 4.8


def test_its_ends_are_those_of_the_variant() -> None:
    ends = Ends(SIX, 6, None).of((11, 14, 17, 21, 25, 32))
    assert (ends.low, ends.high, ends.many, ends.torn) == (11, 32, 6, False)


def test_half_a_carrier_is_torn() -> None:
    whole = CassetteChoice((12, 14, 17, 21, 25, 29), ((17, 21, 25),), "six")
    half = CassetteChoice((12, 14, 17, 21, 23, 29), ((17, 21, 25),), "six")
    assert [Ends(one, 6, None).of(one.cogs).torn for one in (whole, half)] == [False, True]
