"""The setup: one bike's drivetrain, immutable and validated. One TOML file holds one.

Its tables stand in modules by what they are about; all of them can be had from here. A missing optional
fact is None: the check that needs it says so, and nothing is guessed.
"""

from typing import Annotated, Literal

from pydantic import Field

from cogwright.core.setup.drives import Belt, Motor, TimingChain
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
    Name,
    Notes,
    Section,
    SetupPath,
    Sprockets,
    Teeth,
    problem,
)
from cogwright.core.setup.job import JobTicket
from cogwright.core.setup.limits import Limits
from cogwright.core.setup.rider import Rider
from cogwright.core.setup.wear import LogEntry, Wear

__all__ = [
    "MAX_SPROCKETS",
    "MAX_TEETH",
    "MIN_TEETH",
    "NOTHING_GIVEN",
    "Belt",
    "Carrier",
    "Chain",
    "Crank",
    "Frame",
    "FrontDerailleur",
    "JobTicket",
    "Limits",
    "LogEntry",
    "Motor",
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
    "TimingChain",
    "Wear",
    "Wheel",
    "problem",
]


class Setup(Section):
    """One bike's drivetrain.

    `baseline` is the way from its file to that of the setup that it is compared with, `baseline_name` what
    that one was last called.
    """

    format: Literal[1] = 1
    name: Name
    notes: Notes = ""
    baseline: SetupPath | None = None
    baseline_name: Name | None = None
    wheel: Wheel
    crank: Crank
    rear: Rear
    rear_derailleur: RearDerailleur = RearDerailleur.model_construct()
    front_derailleur: FrontDerailleur = FrontDerailleur.model_construct()
    shifters: Shifters = Shifters.model_construct()
    frame: Frame = Frame.model_construct()
    chain: Chain = Chain.model_construct()
    belt: Belt = Belt.model_construct()
    timing_chain: TimingChain = TimingChain.model_construct()
    motor: Motor = Motor.model_construct()
    wear: Wear = Wear.model_construct()
    rider: Rider = Rider.model_construct()
    limits: Limits = Limits.model_construct()
    job: JobTicket = JobTicket.model_construct()
    log: Annotated[tuple[LogEntry, ...], Field(max_length=1000)] = ()

    @property
    def belted(self) -> bool:
        """Whether a belt drives it in place of a chain."""
        return self.belt.given
