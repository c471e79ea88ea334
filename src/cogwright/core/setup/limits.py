"""Tables of the setup file: where marks and limits are set in place of common practice."""

from typing import Annotated

from pydantic import AfterValidator

from cogwright.core.setup.bounds import number
from cogwright.core.setup.fields import Section, Teeth, band

Width = Annotated[float, number(4, 15)]
Share = Annotated[float, number(0, 100)]


class Limits(Section):
    """Where a mark is set. Defaults are common practice, no source, unless the setup says otherwise.

    `index_error_pct` is up to where a cog is well indexed and from where it is not, in % of a pitch;
    `chain_wear_pct` the stretch at which a chain is changed, `slip_pct` that from which a new one slips on
    cogs that it has worn; `retainers` how many things must hold the chain on a single ring. What the law of
    the place allows of a motor is `assist_kmh` and `assist_w`.
    """

    jump_pct: Annotated[float, number(1, 100)] = 15.0
    stands_out_times: Annotated[float, number(1, 5)] = 1.3
    overlap_pct: Annotated[float, number(0, 20)] = 2.5
    rollout_m: Annotated[float | None, number(1, 30)] = None
    chain_angle_deg: Annotated[float | None, number(0.5, 10)] = None
    chain_width_mm: Annotated[tuple[Width, Width], AfterValidator(band)] | None = None
    smallest_ring: Teeth | None = None
    index_error_pct: Annotated[tuple[Share, Share], AfterValidator(band)] | None = None
    cage_clearance_mm: Annotated[float | None, number(0, 300)] = None
    retainers: Annotated[int | None, number(0, 3)] = None
    joint_width_mm: Annotated[float | None, number(0, 3)] = None
    chain_wear_pct: Annotated[float | None, number(0.1, 3)] = None
    slip_pct: Annotated[float | None, number(0.1, 5)] = None
    common_factor: Annotated[int | None, number(1, 130)] = None
    skid_patches: Annotated[int | None, number(1, 130)] = None
    assist_kmh: Annotated[float | None, number(3, 200)] = None
    assist_w: Annotated[float | None, number(10, 20_000)] = None
