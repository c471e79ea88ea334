"""Edits are values: each says what changes, and gives a new valid setup or a refusal."""

from dataclasses import dataclass

from pydantic import BaseModel, ValidationError

from cogwright.core.common.errors import EditRefused
from cogwright.core.setup.model import MAX_SPROCKETS, MAX_TEETH, MIN_TEETH, Setup
from cogwright.core.setup.ring_places import with_rings
from cogwright.core.setup.sprockets import Edit, Where, sprockets


def with_sprockets(setup: Setup, where: Where, teeth: tuple[int, ...]) -> Setup:
    """The setup with other rings or cogs, which are put in order. Raises EditRefused."""
    _check(where, teeth)
    ordered = tuple(sorted(teeth))
    if where == "ring":
        return setup.model_copy(update={"crank": with_rings(setup.crank, ordered)})
    # A carrier whose last cog has left is gone: the same tooth count put on later is a loose cog.
    carriers = tuple(carrier for carrier in setup.rear.carriers if not set(ordered).isdisjoint(carrier))
    update = {"cogs": ordered, "carriers": carriers}
    return setup.model_copy(update={"rear": setup.rear.model_copy(update=update)})


def _check(where: Where, teeth: tuple[int, ...]) -> None:
    if not teeth:
        raise EditRefused(f"the last {where} stays: a bike needs one")
    if len(teeth) > MAX_SPROCKETS:
        raise EditRefused(f"{MAX_SPROCKETS} {where}s are the most that fit here")
    for n in teeth:
        if not MIN_TEETH <= n <= MAX_TEETH:
            raise EditRefused(f"a {where} has {MIN_TEETH} to {MAX_TEETH} teeth, not {n}")
        if teeth.count(n) > 1:
            raise EditRefused(f"there is a {where} of {n} teeth already")


def _others(setup: Setup, where: Where, teeth: int) -> tuple[int, ...]:
    """The rings or cogs beside one that is there. Raises EditRefused when it is not."""
    there = sprockets(setup, where)
    if teeth not in there:
        raise EditRefused(f"there is no {where} of {teeth} teeth")
    return tuple(n for n in there if n != teeth)


@dataclass(frozen=True, slots=True)
class SetTeeth:
    """Put another ring or cog in the place of one."""

    where: Where
    old: int
    new: int

    def apply(self, setup: Setup) -> Setup:
        """See Edit."""
        return with_sprockets(setup, self.where, (*_others(setup, self.where, self.old), self.new))

    def say(self) -> str:
        """See Edit."""
        return f"{self.where} {self.old} to {self.new}"


@dataclass(frozen=True, slots=True)
class AddSprocket:
    """Add a ring or cog."""

    where: Where
    teeth: int

    def apply(self, setup: Setup) -> Setup:
        """See Edit."""
        return with_sprockets(setup, self.where, (*sprockets(setup, self.where), self.teeth))

    def say(self) -> str:
        """See Edit."""
        return f"add {self.where} {self.teeth}"


@dataclass(frozen=True, slots=True)
class RemoveSprocket:
    """Take a ring or cog off."""

    where: Where
    teeth: int

    def apply(self, setup: Setup) -> Setup:
        """See Edit."""
        return with_sprockets(setup, self.where, _others(setup, self.where, self.teeth))

    def say(self) -> str:
        """See Edit."""
        return f"remove {self.where} {self.teeth}"


@dataclass(frozen=True, slots=True)
class SetSprockets:
    """Put other rings or cogs on in the place of all that are there."""

    where: Where
    teeth: tuple[int, ...]

    def apply(self, setup: Setup) -> Setup:
        """See Edit."""
        return with_sprockets(setup, self.where, self.teeth)

    def say(self) -> str:
        """See Edit."""
        return f"{self.where}s {' '.join(map(str, sorted(self.teeth)))}"


@dataclass(frozen=True, slots=True)
class ReplaceCassette:
    """Put a whole cassette on: its cogs and its riveted carriers."""

    cogs: tuple[int, ...]
    carriers: tuple[tuple[int, ...], ...] = ()

    def apply(self, setup: Setup) -> Setup:
        """See Edit."""
        _check("cog", self.cogs)
        update = {"cogs": tuple(sorted(self.cogs)), "carriers": self.carriers}
        return setup.model_copy(update={"rear": setup.rear.model_copy(update=update)})

    def say(self) -> str:
        """See Edit."""
        return f"cassette {min(self.cogs)}-{max(self.cogs)}, {len(self.cogs)} cogs"


@dataclass(frozen=True, slots=True)
class SetField:
    """Give one value of the file another value, checked as if it had been read from a file.

    `key` is a dotted path such as `chain.links`; a value of None takes the fact out.
    """

    key: str
    value: object

    def apply(self, setup: Setup) -> Setup:
        """See Edit."""
        data = setup.model_dump(exclude_unset=False)
        *tables, last = self.key.split(".")
        table = data
        for name in tables:
            table = table[name]
        if last not in table:
            raise EditRefused(f"there is no {self.key}")
        table[last] = self.value
        return _validated(data)

    def say(self) -> str:
        """See Edit."""
        return f"{self.key} {'taken out' if self.value is None else self.value}"


@dataclass(frozen=True, slots=True)
class Together:
    """Several edits as one: all of them are made, or none, and one undo takes them back."""

    edits: tuple[Edit, ...]
    why: str

    def apply(self, setup: Setup) -> Setup:
        """See Edit."""
        for edit in self.edits:
            setup = edit.apply(setup)
        return setup

    def say(self) -> str:
        """See Edit."""
        return self.why


@dataclass(frozen=True, slots=True)
class Become:
    """Take a whole other drivetrain onto the bench in one step, such as a proposal."""

    setup: Setup
    why: str

    def apply(self, setup: Setup) -> Setup:  # noqa: ARG002 - the protocol asks for it
        """See Edit."""
        return self.setup

    def say(self) -> str:
        """See Edit."""
        return self.why


def _validated(data: dict[str, object]) -> Setup:
    try:
        return Setup.model_validate(data)
    except ValidationError as error:
        first = error.errors(include_url=False)[0]
        raise EditRefused(f"{'.'.join(map(str, first['loc']))}: {first['msg']}") from error


def dump(section: BaseModel) -> dict[str, object]:
    """What differs from the defaults, as plain values: what belongs in a file."""
    return section.model_dump(exclude_defaults=True)
