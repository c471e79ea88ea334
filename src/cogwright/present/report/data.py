"""The report as data: JSON and CSV. Scripts rely on the keys: add to them, never rename one."""

import csv
import io
import json
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Final

from cogwright.core.common.safe_text import csv_cell
from cogwright.core.figures import GearRow
from cogwright.core.gears.against_baseline import Comparison
from cogwright.core.gears.gears import Gear
from cogwright.core.gears.steps import RearStep
from cogwright.core.study import Study
from cogwright.present.report.sections import SECTIONS, Extras
from cogwright.present.report.values import gear_keys, rounded

FORMAT: Final = 1
CSV_HEAD: Final = (
    "of",
    "name",
    "ring",
    "cog",
    "hub",
    "ratio",
    "development_m",
    "gear_inches",
    "gain_ratio",
    "speed_kmh",
    "step_pct",
    "flags",
)


@dataclass(frozen=True, slots=True)
class Report:
    """A study and the names that belong to it: the files it came from, as the user gave them.

    `used` are sentences on the baseline and the parts bin that were used, and why.
    """

    study: Study
    file: str = ""
    baseline_file: str = ""
    extras: Extras = field(default_factory=Extras)
    used: tuple[str, ...] = ()


def as_json(of: Report) -> str:
    """One JSON object, pure ASCII; scripts rely on its keys, which may only be added to."""
    return json.dumps(document(of), indent=2, allow_nan=False) + "\n"


def document(of: Report) -> dict[str, object]:
    """What `as_json` writes, as plain values."""
    study = of.study
    core: dict[str, object] = {
        "format": FORMAT,
        "setup": {"name": study.bench.name, "file": of.file},
        "wheel": {
            "circumference_m": rounded(study.wheel.m),
            "diameter_in": rounded(study.wheel.diameter_in),
            "source": study.wheel.source,
        },
        "gears": [_gear(row) for row in study.rows],
        "rear_steps": [_rear_step(step) for step in study.rear_steps],
        "summary": _summary(study),
        "comparison": _comparison(of, study.comparison) | _felt(study) if study.comparison else None,
    }
    core["used"] = list(of.used)
    return core | {section.key: section.json(study, of.extras) for section in SECTIONS}


def _gear(row: GearRow) -> dict[str, object]:
    gear = row.gear
    return {
        **gear_keys(gear),
        "ratio": rounded(gear.ratio),
        "development_m": rounded(gear.development_m),
        "gear_inches": rounded(row.gear_inches),
        "gain_ratio": rounded(row.gain_ratio),
        "speed_kmh": rounded(row.speed_kmh),
        "step_pct": rounded(row.step_pct),
        "flags": list(row.flags),
    }


def _rear_step(step: RearStep) -> dict[str, object]:
    return {
        "ring": step.easier.ring,
        "from_cog": step.easier.cog,
        "to_cog": step.harder.cog,
        "from_hub": step.easier.hub,
        "to_hub": step.harder.hub,
        "step_pct": rounded(step.step_pct),
        "jump": step.jump,
        "big_jump": step.big_jump,
        "stands_out": step.stands_out,
    }


def _summary(study: Study) -> dict[str, object]:
    summary = study.summary
    return {
        "gears": summary.gears,
        "distinct": summary.distinct,
        "range_pct": rounded(summary.range_pct),
        "lowest_m": rounded(summary.lowest_m),
        "highest_m": rounded(summary.highest_m),
        "jumps": summary.jumps,
        "standing_out": summary.standing_out,
        "jump_limit_pct": study.bench.limits.jump_pct,
        "overlap_limit_pct": study.bench.limits.overlap_pct,
        "cadence_rpm": study.bench.rider.cadence_rpm[1],
    }


def _comparison(of: Report, found: Comparison) -> dict[str, object]:
    baseline = of.study.baseline
    return {
        "baseline": baseline.name if baseline else "",
        "baseline_file": of.baseline_file,
        "low_change_pct": rounded(found.low_change_pct),
        "high_change_pct": rounded(found.high_change_pct),
        "lost_low": _labels(found.lost_low),
        "lost_high": _labels(found.lost_high),
        "worst_hole_pct": rounded(found.worst_hole_pct),
        "holes": [
            {"gear": h.gear.label, "nearest": h.nearest.label, "away_pct": rounded(h.away_pct)}
            for h in found.holes
        ],
        "gained_low": _labels(found.gained_low),
        "gained_high": _labels(found.gained_high),
    }


def _felt(study: Study) -> dict[str, object]:
    """How many of the gears lost and gained a rider feels: usable ones, and of twins one."""
    felt = study.felt
    if felt is None:
        return {}
    return {
        "felt": {
            "lost_low": len(felt.lost_low),
            "lost_high": len(felt.lost_high),
            "gained_low": len(felt.gained_low),
            "gained_high": len(felt.gained_high),
        }
    }


def _labels(gears: Sequence[Gear]) -> list[str]:
    return [gear.label for gear in gears]


def as_csv(of: Report) -> str:
    """One row a gear, easiest first, then the baseline's lost gears and holes; no cell a sheet would run."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(CSV_HEAD)
    writer.writerows(_csv_rows(of.study))
    return out.getvalue()


def _csv_rows(study: Study) -> list[list[object]]:
    bench = [["bench", csv_cell(study.bench.name), *map(_cell, _gear(row).values())] for row in study.rows]
    found, baseline = study.comparison, study.baseline
    if found is None or baseline is None:
        return bench
    missed = {"lost-low": found.lost_low, "lost-high": found.lost_high, "hole": [h.gear for h in found.holes]}
    flags = {gear: flag for flag, gears in missed.items() for gear in gears}
    rows = Study(baseline).rows
    return bench + [
        [
            "baseline",
            csv_cell(baseline.name),
            *map(_cell, (_gear(row) | {"flags": [flags[row.gear]]}).values()),
        ]
        for row in rows
        if row.gear in flags
    ]


def _cell(value: object) -> object:
    return " ".join(value) if isinstance(value, list) else value
