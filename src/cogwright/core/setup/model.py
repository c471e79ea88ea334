"""The setup: one bike's drivetrain, immutable and validated. One TOML file holds one.

Its tables stand in modules by what they are about; all of them can be had from here. A missing optional
fact is None: the check that needs it says so, and nothing is guessed.
"""

from typing import Literal

from cogwright.core.setup.drivetrain import (
    Chain,
    Crank,
    Frame,
    FrontDerailleur,
    Rear,
    RearDerailleur,
    Shifters,
    Wheel,
)
from cogwright.core.setup.fields import (
    MAX_SPROCKETS,
    MAX_TEETH,
    MIN_TEETH,
    NOTHING_GIVEN,
    Carrier,
    FileName,
    Name,
    Notes,
    Section,
    Sprockets,
    Teeth,
    problem,
)
from cogwright.core.setup.limits import Limits
from cogwright.core.setup.rider import Rider

__all__ = [
    "MAX_SPROCKETS",
    "MAX_TEETH",
    "MIN_TEETH",
    "NOTHING_GIVEN",
    "Carrier",
    "Chain",
    "Crank",
    "Frame",
    "FrontDerailleur",
    "Limits",
    "Name",
    "Notes",
    "Rear",
    "RearDerailleur",
    "Rider",
    "Section",
    "Setup",
    "Shifters",
    "Sprockets",
    "Teeth",
    "Wheel",
    "problem",
]


class Setup(Section):
    """One bike's drivetrain. `baseline` names the file, in the same folder, that the app compares it with."""

    format: Literal[1] = 1
    name: Name
    notes: Notes = ""
    baseline: FileName | None = None
    wheel: Wheel
    crank: Crank
    rear: Rear
    rear_derailleur: RearDerailleur = RearDerailleur()
    front_derailleur: FrontDerailleur = FrontDerailleur()
    shifters: Shifters = Shifters()
    frame: Frame = Frame()
    chain: Chain = Chain()
    rider: Rider = Rider()
    limits: Limits = Limits()
