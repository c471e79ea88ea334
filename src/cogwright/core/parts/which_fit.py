"""Trying the parts of a bin: what each would do to the bench, and why one does not fit."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from cogwright.core.chain.bolt_circle import circle_of
from cogwright.core.chain.slack import chain_of
from cogwright.core.common.errors import EditRefused
from cogwright.core.common.words import listed
from cogwright.core.figures import Figures
from cogwright.core.fit.check import Status
from cogwright.core.fit.registry import fit_of
from cogwright.core.parts.bin import (
    BeltPart,
    Bin,
    CarrierPart,
    CassettePart,
    ChainPart,
    CogPart,
    FrontDerailleurPart,
    HubPart,
    Part,
    RearDerailleurPart,
    RingPart,
    SmallPart,
)
from cogwright.core.parts.search import alike
from cogwright.core.setup.edits import AddSprocket, ReplaceCassette, SetField, SetTeeth, Together
from cogwright.core.setup.model import Chain, Setup
from cogwright.core.setup.renewed import FitCassette, FitChain, FitRings
from cogwright.core.setup.sprockets import Edit, Where, riveted_with
from cogwright.core.study import Study

_FOR_RINGS: Final = (RingPart, FrontDerailleurPart, ChainPart, RearDerailleurPart, BeltPart)
_FOR_COGS: Final = (CogPart, CarrierPart, CassettePart, ChainPart, RearDerailleurPart, HubPart, BeltPart)
#: Checks that a whole part answers for: it does not fit while one of them is not ok, new or not.
_ANSWERS_FOR: Final[dict[type[Part], frozenset[str]]] = {
    CassettePart: frozenset({"largest cog", "freehub driver", "clicks", "spacing family", "indexing"}),
    ChainPart: frozenset({"chain length", "axle travel", "chain width"}),
    RearDerailleurPart: frozenset({"largest cog", "capacity", "spacing family", "indexing"}),
    HubPart: frozenset({"hub torque"}),
    BeltPart: frozenset({"belt"}),
    FrontDerailleurPart: frozenset({"largest ring", "front difference"}),
    SmallPart: frozenset({"clicks", "spacing family", "indexing"}),
}


@dataclass(frozen=True, slots=True)
class SprocketPlace:
    """The sprocket that a loose ring or cog takes the place of; with `add` it goes on beside it."""

    where: Where
    teeth: int
    add: bool = False


@dataclass(frozen=True, slots=True)
class TriedPart:
    """A part, the edit that puts it on the bench, and why it does not fit; empty when it does."""

    part: Part
    edit: Edit
    why_not: tuple[str, ...]

    @property
    def fits(self) -> bool:
        """Whether nothing known speaks against it."""
        return not self.why_not


def try_parts(stock: Bin, study: Study, place: SprocketPlace) -> tuple[TriedPart, ...]:
    """Every part that can be put on at a place: what fits before what does not, kind by kind, stock first.

    A part that does not fit is among them, with the reasons: it can be put on all the same.
    """
    of_place: tuple[type[Part], ...] = _FOR_RINGS if place.where == "ring" else _FOR_COGS
    shifters = [part for part in stock.small_parts if part.kind == "rear shifter" and place.where == "cog"]
    kinds = tuple(kind for kind in of_place if _makes_sense(kind, study.bench))
    found = [_tried(part, study, place) for part in stock.parts if _shown(part, kinds, shifters)]
    return tuple(sorted(found, key=lambda one: _rank(one, kinds)))


def _makes_sense(kind: type[Part], setup: Setup) -> bool:
    """Whether a bike has any use for a kind of part: belt or chain, a hub gear where there could be one."""
    if kind in {BeltPart, ChainPart}:
        return setup.belted is (kind is BeltPart)
    return kind is not HubPart or len(setup.rear.hub_ratios) > 1 or len(setup.rear.cogs) == 1


def _shown(part: Part, kinds: tuple[type[Part], ...], shifters: list[SmallPart]) -> bool:
    return isinstance(part, kinds) or part in shifters


def _rank(one: TriedPart, kinds: tuple[type[Part], ...]) -> tuple[bool, int, bool]:
    kind = kinds.index(type(one.part)) if type(one.part) in kinds else len(kinds)
    return not one.fits, kind, one.part.count == 0


def _tried(part: Part, study: Study, place: SprocketPlace) -> TriedPart:
    edit = edit_for(part, study.bench, place)
    return TriedPart(part, edit, fits(part, study, place))


def cassette_of(setup: Setup, study: Study, place: SprocketPlace) -> TriedPart:
    """The cassette of another setup, tried as a part."""
    rear = setup.rear
    part = CassettePart(
        name=setup.name,
        cogs=rear.cogs,
        carriers=rear.carriers,
        family=rear.family,
        driver=rear.cassette_driver,
    )
    return _tried(part, study, place)


def fits(part: Part, study: Study, place: SprocketPlace) -> tuple[str, ...]:
    """Why a part does not fit at a place: nothing when it does.

    What the part itself says first, then the checks that it answers for and that are not ok with it, and
    those that it turns into a problem or makes worse.
    """
    try:
        bench = edit_for(part, study.bench, place).apply(study.bench)
    except EditRefused as refusal:
        return (str(refusal),)
    before = {check.check: check.say for check in study.fit if check.status is Status.PROBLEM}
    after = fit_of(Figures(bench, study.baseline))
    own = _ANSWERS_FOR.get(type(part), frozenset())
    wrong = (
        c.say
        for c in after
        if (c.check in own and c.status in {Status.PROBLEM, Status.CAUTION})
        or (c.status is Status.PROBLEM and before.get(c.check) != c.say)
    )
    return (*_mismatch(part, study.bench, place), *wrong)


def _mismatch(part: Part, setup: Setup, place: SprocketPlace) -> tuple[str, ...]:
    """What the part says of itself against the bike, beside the fit checks."""
    if isinstance(part, RingPart):
        circle = circle_of(setup.crank, place.teeth)
        if not alike(part.bolt_circle_mm, circle):
            return (f"its bolt circle is {part.bolt_circle_mm:g} mm, the crank's {circle:g} mm",)
        if circle is not None and part.bolts != setup.crank.bolts:
            return (f"it has {part.bolts} bolts, the crank {setup.crank.bolts}",)
    if isinstance(part, FrontDerailleurPart) and len(setup.crank.rings) == 1:
        return ("one ring needs no front derailleur",)
    if isinstance(part, CogPart | CarrierPart) and not alike(part.family, setup.rear.family):
        return (f"it is spaced for {part.family}, the cassette for {setup.rear.family}",)
    return ()


def edit_for(part: Part, setup: Setup, place: SprocketPlace) -> Edit:
    """The edit that puts a part on the bench: one step of undo, whatever it takes."""
    if isinstance(part, RingPart):
        return _ring(part, setup, place)
    if isinstance(part, CogPart):
        return _sprocket("cog", part.teeth, setup, place)
    if isinstance(part, CarrierPart):
        return _carrier(part, setup, place)
    return Together(_facts(part, setup), part.name)


def _ring(part: RingPart, setup: Setup, place: SprocketPlace) -> Edit:
    """A ring in its place; on a single one the teeth that keep the chain on are its own."""
    there = setup.crank.rings == (part.teeth,)
    put_on = FitRings() if there else _sprocket("ring", part.teeth, setup, place)
    alone = len(setup.crank.rings) == 1 and not (place.add and place.where == "ring")
    if not alone or part.retaining_teeth == setup.crank.retaining_teeth:
        return put_on
    return Together((put_on, SetField("crank.retaining_teeth", part.retaining_teeth)), part.name)


def _sprocket(where: Where, teeth: int, setup: Setup, place: SprocketPlace) -> Edit:
    """A loose ring or cog in its place; where the cursor is on the other side, at the nearest sprocket."""
    there = setup.crank.rings if where == "ring" else setup.rear.cogs
    near = place.teeth if where == place.where else min(there, key=lambda n: (abs(n - teeth), n))
    return AddSprocket(where, teeth) if place.add else SetTeeth(where, near, teeth)


def _carrier(part: CarrierPart, setup: Setup, place: SprocketPlace) -> Edit:
    """A carrier for the cogs in its reach and those riveted to them, else for those of the cursor."""
    rear, low, high = setup.rear, part.cogs[0], part.cogs[-1]
    reached = {n for n in rear.cogs if low <= n <= high}
    if not reached and place.where == "cog":
        reached = {place.teeth}
    leaves = reached.union(*(riveted_with(setup, n) for n in reached))
    cogs = tuple(sorted({*(n for n in rear.cogs if n not in leaves), *part.cogs}))
    kept = tuple(carrier for carrier in rear.carriers if not leaves.intersection(carrier))
    return Together((ReplaceCassette(cogs, (*kept, part.cogs)),), f"carrier {listed(part.cogs)}")


def _facts(part: Part, setup: Setup) -> tuple[Edit, ...]:
    """The facts of the setup that a whole part brings with it."""
    if isinstance(part, CassettePart):
        return (FitCassette(part.cogs, part.carriers), *_spacing(part, setup))
    if isinstance(part, ChainPart):
        fit = chain_of(setup).fit_pitches
        links = part.links if fit is None else min(part.links, fit)
        return (FitChain(Chain(links=links, outer_width_mm=part.outer_width_mm, cogs=part.cogs)),)
    if isinstance(part, SmallPart):
        return _shifter(part)
    return tuple(edit for table, facts in _tables(part) for edit in _set(table, facts, all_of_them=True))


def _tables(part: Part) -> Iterator[tuple[str, dict[str, object]]]:
    """Tables of the setup that a part gives as a whole: what it does not say is unknown then."""
    if isinstance(part, RearDerailleurPart):
        yield "rear_derailleur", part.limits.model_dump()
    if isinstance(part, FrontDerailleurPart):
        yield "front_derailleur", part.limits.model_dump()
    if isinstance(part, HubPart):
        limits = part.model_dump(include={"least_ratio", "least_ratio_motor", "most_torque_nm"})
        yield "rear", {"hub_ratios": part.ratios, **limits}
    if isinstance(part, BeltPart):
        yield "belt", {"pitch_mm": part.pitch_mm, "teeth": part.teeth}


def _shifter(part: SmallPart) -> tuple[Edit, ...]:
    """Clicks, family and pull of a shifter: the pull of the one before says nothing of this one."""
    indexed = (*_set("rear", {"clicks": part.clicks}), *_set("shifters", {"family": part.family}))
    return (*indexed, SetField("shifters.pull_mm", part.pull_mm))


def _spacing(part: CassettePart, setup: Setup) -> tuple[Edit, ...]:
    """The cassette's own spacing and driver: what was known of the one before says nothing of this one."""
    edits: list[Edit] = []
    if part.driver != setup.rear.cassette_driver:
        edits.append(SetField("rear.cassette_driver", part.driver))
    if part.family != setup.rear.family:
        edits.append(SetField("rear.family", part.family))
    known = setup.rear.cog_pitch_mm is not None and len(part.cogs) != len(setup.rear.cogs)
    if known or part.cog_pitch_mm is not None:
        edits.append(SetField("rear.cog_pitch_mm", part.cog_pitch_mm))
    return tuple(edits)


def _set(table: str, facts: dict[str, object], all_of_them: bool = False) -> tuple[Edit, ...]:
    """Edits of one table's facts; of another derailleur an unknown limit is unknown too."""
    kept = facts if all_of_them else {key: value for key, value in facts.items() if value is not None}
    return tuple(SetField(f"{table}.{key}", value) for key, value in kept.items())
