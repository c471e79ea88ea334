"""Bikes and bins of several tests: one on which all goes together, to be changed fact by fact."""

from typing import Any

from cogwright.core.fit.check import Check
from cogwright.core.parts.bin import Bin
from cogwright.core.setup.model import Setup
from cogwright.core.study import Study, study
from cogwright.store.bins import read_bin
from support import LONG, ROOT, make

DEMO = ROOT / "setups"
DRAWERS = DEMO / "bins" / "hollin-yard.toml"
COGS = (11, 13, 15, 17, 19, 21, 23, 25, 28, 31, 34)
FACTS: dict[str, Any] = {
    "crank": {"bolt_circle_mm": 110.0, "chainline_mm": 45.0},
    "rear": {"clicks": 11, "smallest_cog": 11, "family": "wide", "carriers": [[23, 25, 28], [31, 34]]},
    "rear_derailleur": {"largest_cog": 36, "smallest_cog": 11, "capacity": 39, "family": "wide"},
    "front_derailleur": {"largest_ring": 50, "difference": 16},
    "shifters": {"family": "wide"},
    "frame": {"chainstay_mm": 435.0},
    "chain": {"links": 112, "outer_width_mm": 5.5},
}


def some_drawers() -> Bin:
    """The demo's bin without its single cogs, a tenth of the kits of the whole: that is for the long run."""
    whole = read_bin(DRAWERS).value
    return whole if LONG else whole.model_copy(update={"cogs": ()})


def bike(rings: tuple[int, ...] = (34, 46), cogs: tuple[int, ...] = COGS, **changed: dict[str, Any]) -> Setup:
    """A bike on which all is ok but the crossed chain, with some facts changed (None takes one out)."""
    tables = {name: {**facts, **changed.get(name, {})} for name, facts in FACTS.items()}
    tables |= {name: facts for name, facts in changed.items() if name not in tables}
    known = {name: {k: v for k, v in facts.items() if v is not None} for name, facts in tables.items()}
    return make(rings, cogs, **known)


def check(of: Study | Setup, name: str) -> Check:
    """The fit check of a name."""
    found = {c.check: c for c in (of if isinstance(of, Study) else study(of)).fit}
    return found[name]


def drawer(**kinds: list[dict[str, Any]]) -> Bin:
    """A bin in which every part gets a name."""
    named = {kind: [{"name": "part", **p} for p in parts] for kind, parts in kinds.items()}
    return Bin.model_validate({"name": "Drawer", **named})
