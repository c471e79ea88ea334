"""Belt, fixed wheel, timing chain and motor as data; None for a bike without. Keys are only ever added."""

from cogwright.core.chain.belt import belt_of
from cogwright.core.chain.timing import timing_of
from cogwright.core.drive.fixed import common_factor, pairs_near, skid_patches
from cogwright.core.drive.loads import loads_of
from cogwright.core.drive.pairs import stay_pairs
from cogwright.core.motor.grades import assisted
from cogwright.core.parts.bin import Bin
from cogwright.core.parts.search import belts
from cogwright.core.study import Study
from cogwright.present.report.values import Data, gear_keys, rounded


def belt_json(study: Study, stock: Bin | None = None) -> Data | None:
    """The belt: teeth that the pulleys take, those that are on, and how far the axle moves for them.

    `right` are lengths that leave the axle within its way, `in_bin` those that the bin has or can order.
    """
    belt = belt_of(study.bench)
    if belt is None:
        return None
    teeth = study.bench.belt.teeth
    return {
        "pitch_mm": rounded(study.bench.belt.pitch_mm),
        "taken": rounded(belt.taken),
        "installed": teeth,
        "move_mm": None if teeth is None else rounded(belt.move_mm(teeth)),
        "missing": list(belt.missing),
        "right": list(belt.right),
        "in_bin": None if stock is None else list(belts(stock, study.bench.belt.pitch_mm)),
    }


def fixed_json(study: Study) -> Data | None:
    """Skid patches, common factor and the pairs that are right on the stay; None where nothing says fixed."""
    setup, chain = study.bench, study.chain
    if setup.rear.fixed is None or chain.tensioned:
        return None
    patches = skid_patches(*chain.largest)
    stay = chain.stay_mm
    pairs = () if stay is None else stay_pairs(*chain.largest, stay, bool(setup.chain.half_link))
    return {
        "fixed": setup.rear.fixed,
        "patches_one_foot": patches.one_foot,
        "patches_either_foot": patches.either_foot,
        "common_factor": common_factor(*chain.largest),
        "even_pairs": list(pairs_near(*chain.largest, lambda ring, cog: common_factor(ring, cog) == 1)),
        "pairs": [
            {
                "ring": pair.ring,
                "cog": pair.cog,
                "links": pair.links,
                "new_mm": rounded(pair.new_mm),
                "worn_mm": rounded(pair.worn_mm),
                "right": pair.mark,
            }
            for pair in pairs
        ],
    }


def timing_json(study: Study) -> Data | None:
    """A tandem's timing chain: links needed, to cut to and on the bike, and its stretch."""
    of = timing_of(study.bench)
    if of is None:
        return None
    return {
        "needed": rounded(of.needed),
        "fit": of.fit,
        "installed": of.of.links,
        "stretch_pct": rounded(of.of.stretch_pct),
        "missing": list(of.missing),
    }


def motor_json(study: Study) -> Data | None:
    """Every gear's cadence at the cut-off and the grades held; the loads on chain and hub, an estimate."""
    if not study.bench.motor.given:
        return None
    loads = loads_of(study.bench)
    return {
        "cutoff_kmh": rounded(study.bench.motor.cutoff_kmh),
        "per_gear": [
            gear_keys(one.reach.gear)
            | {
                "cutoff_rpm": rounded(one.reach.cutoff_rpm),
                "reach": one.reach.reach.value,
                "alone_pct": rounded(one.alone_pct),
                "helped_pct": rounded(one.helped_pct),
                "motor_w": rounded(one.motor_w),
            }
            for one in assisted(study)
        ],
        "chain_n": None if loads is None else rounded(loads.chain_n),
        "hub_nm": None if loads is None else rounded(loads.hub_nm),
    }
