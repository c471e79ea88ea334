"""Recorded rides as data, for JSON and CSV. Scripts rely on the keys: add to them, never rename one."""

import csv
import io
import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from cogwright.core.common.safe_text import csv_cell
from cogwright.core.gears.gears import Gear
from cogwright.core.riding.evidence.evidence import Evidence
from cogwright.core.riding.evidence.on_bench import OnBench
from cogwright.core.riding.evidence.use import Spell, Use
from cogwright.present.lines import Look, plain
from cogwright.present.report.markdown import md, md_block
from cogwright.present.report.values import Data, gear_keys, rounded
from cogwright.present.views.rides import rides_lines

DECIMALS: Final = 3
_CSV_HEAD: Final = ("of", "name", "ring", "cog", "hub", "development_m", "time_s", "distance_m")


@dataclass(frozen=True, slots=True)
class RidesReport:
    """Evidence, and the files it came from as the user gave them."""

    of: Evidence
    file: str
    bench_file: str = ""
    files: Sequence[str] = ()


def rides_json(report: RidesReport) -> str:
    """One JSON object, pure ASCII."""
    return json.dumps(rides_document(report), indent=2, allow_nan=False) + "\n"


def rides_document(report: RidesReport) -> Data:
    """What `rides_json` writes, as plain values."""
    of, use = report.of, report.of.use
    return {
        "format": 1,
        "setup": {"name": of.setup.name, "file": report.file},
        "rides": _rides(use, report.files),
        "seconds": _r(use.seconds),
        "distance_m": _r(use.metres),
        "pedalled_s": _r(use.pedalled_s),
        "coasted_s": _r(use.coasted_s),
        "no_gear_s": _r(use.other_s),
        "no_cadence_s": _r(use.unknown_s),
        "gears": [gear_keys(gear) | _spent(use.times[gear], use.ways[gear]) for gear in use.times],
        "cadence": _classes(use.cadences, "rpm"),
        "speed": _classes(use.speeds, "kmh"),
        "below_s": _r(use.below_s),
        "above_s": _r(use.above_s),
        "shifts": use.shifts,
        "shifts_per_km": _r(use.shifts_a_km),
        "never_used": [gear.label for gear in use.never],
        "alike": [[a.label, b.label] for a, b in of.alike],
        "wheel_off_pct": _r(100.0 * use.wheel),
        "grinding": [_spell(spell) for spell in use.grinding],
        "spinning": [_spell(spell) for spell in use.spinning],
        "on_bench": None if of.bench is None else _bench(of.bench, report.bench_file),
    }


def _rides(use: Use, files: Sequence[str]) -> list[Data]:
    given = [*files, *([""] * (len(use.ridden) - len(files)))]
    return [
        {
            "name": one.recording.name,
            "file": file,
            "seconds": _r(sum(one.lasts)),
            "distance_m": _r(one.recording.length_m),
            "has_cadence": one.recording.has_cadence,
        }
        for one, file in zip(use.ridden, given, strict=True)
    ]


def _spent(seconds: float, metres: float) -> Data:
    return {"time_s": _r(seconds), "distance_m": _r(metres)}


def _classes(spent: Mapping[int, float], name: str) -> list[Data]:
    return [{name: lowest, "time_s": _r(seconds)} for lowest, seconds in spent.items()]


def _spell(of: Spell) -> Data:
    return {
        "ride": of.ride,
        "from_m": _r(of.start_m),
        "to_m": _r(of.end_m),
        "s": _r(of.seconds),
        "rpm": _r(of.rpm),
        "grade_pct": None if of.grade is None else _r(100.0 * of.grade),
        "gear": of.gear.label,
    }


def _bench(of: OnBench, file: str) -> Data:
    return {
        "setup": {"name": of.setup.name, "file": file},
        "pedalled_s": _r(of.pedalled_s),
        "gears": [gear_keys(gear) | {"time_s": _r(seconds)} for gear, seconds in of.times.items()],
        "cadence": _classes(of.cadences, "rpm"),
        "below_s": _r(of.below_s),
        "above_s": _r(of.above_s),
        "without_gear_s": _r(of.without_s),
        "shifts": of.changes,
    }


def _r(value: float) -> float | None:
    return rounded(value, DECIMALS)


def rides_csv(report: RidesReport) -> str:
    """One row a gear, easiest first: the bike ridden, then the bench; no cell a sheet would run."""
    of, out = report.of, io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(_CSV_HEAD)
    writer.writerows(
        ("ridden", csv_cell(of.setup.name), *_cells(gear), _r(seconds), _r(of.use.ways[gear]))
        for gear, seconds in of.use.times.items()
    )
    if of.bench is not None:
        name = csv_cell(of.bench.setup.name)
        writer.writerows(
            ("bench", name, *_cells(gear), _r(seconds), "") for gear, seconds in of.bench.times.items()
        )
    return out.getvalue()


def _cells(gear: Gear) -> tuple[object, ...]:
    return gear.ring, gear.cog, gear.hub, round(gear.development_m, 6)


def rides_text(report: RidesReport, look: Look) -> str:
    """The view as text."""
    return "".join(plain(row) + "\n" for row in rides_lines(report.of, look))


def rides_markdown(report: RidesReport) -> str:
    """The view under a heading; its lines stand indented, so that nothing in them is markup."""
    rows = md_block(rides_lines(report.of, Look()))
    return "\n".join([f"# {md(report.of.setup.name)}: recorded rides", "", *rows]) + "\n"
