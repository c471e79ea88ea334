"""Tables of the setup file: where marks and limits are set in place of common practice."""

from typing import Annotated

from pydantic import AfterValidator

from cogwright.core.setup.fields import Section, Teeth, band, number


class Limits(Section):
    """Where a mark is set. Defaults are common practice, no source, unless the setup says otherwise."""

    jump_pct: Annotated[float, number(1, 100)] = 15.0
    stands_out_times: Annotated[float, number(1, 5)] = 1.3
    overlap_pct: Annotated[float, number(0, 20)] = 2.5
    rollout_m: Annotated[float, number(1, 30)] | None = None
    chain_angle_deg: Annotated[float, number(0.5, 10)] | None = None
    chain_width_mm: (
        Annotated[
            tuple[Annotated[float, number(4, 15)], Annotated[float, number(4, 15)]], AfterValidator(band)
        ]
        | None
    ) = None
    smallest_ring: Teeth | None = None
