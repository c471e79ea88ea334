"""A comparison as Markdown, CSV and JSON. Scripts rely on the keys: add to them, never rename one."""

import csv
import io
import json
from collections.abc import Iterable
from dataclasses import dataclass

from cogwright.core.common.safe_text import csv_cell
from cogwright.core.comparing.columns import BikeColumn, SideBySide
from cogwright.present.extra_facts import extra_facts
from cogwright.present.lines import Look, plain
from cogwright.present.report.markdown import md, md_row
from cogwright.present.report.values import rounded
from cogwright.present.views.compare import BEST, compare_lines, heads, warnings
from cogwright.present.views.compare_rows import MARKED, best_of, marked, rows_of


@dataclass(frozen=True, slots=True)
class ComparedFiles:
    """A comparison, the files that it is of as the user gave them, and what was used, in sentences."""

    of: SideBySide
    files: tuple[str, ...]
    baseline_file: str = ""
    used: tuple[str, ...] = ()


def compare_text(compared: ComparedFiles, look: Look) -> str:
    """The comparison for the terminal: what was used, the strips, the table."""
    said = [*compared.used, ""]
    rows = [plain(row) for row in compare_lines(compared.of, look)]
    names = [
        f" {letter}  {column.setup.name}"
        for letter, column in zip(compared.of.marks, compared.of.columns, strict=True)
    ]
    return "".join(f"{row}\n" for row in (*said, *names, "", *rows))


def compare_markdown(compared: ComparedFiles) -> str:
    """A table with a column a candidate, the baseline first."""
    of = compared.of
    rows = ["# Compared", "", *(f"- {md(text)}" for text in compared.used), ""]
    rows += [f"- {md(mark)}: {md(name)}" for mark, name in heads(of)] + [""]
    rows += [md_row(["", *(md(mark) for mark, _ in heads(of))])]
    rows += [md_row(["---", *("---:" for _ in of.all)])]
    for row in rows_of(of):
        best = best_of(row, of)
        told = [md(row.show(c)) + (f" \\{BEST}" if i in best else "") for i, c in enumerate(of.all)]
        rows.append(md_row([md(row.label.strip()), *told]))
    rows += ["", f"\\{BEST} the best of its row.", *(f"\n{md(text)}" for text in warnings(of))]
    rows += ["", md(MARKED)] if marked(of) else []
    return "\n".join(rows) + "\n"


def compare_json(compared: ComparedFiles) -> str:
    """One JSON object, pure ASCII."""
    return json.dumps(compare_document(compared), indent=2, allow_nan=False) + "\n"


def compare_document(compared: ComparedFiles) -> dict[str, object]:
    """What `compare_json` writes, as plain values: lengths in m, steps and grades in %, times in s."""
    of, base = compared.of, compared.of.baseline
    return {
        "format": 1,
        "baseline": None if base is None else _whole(base, base.setup.name, compared.baseline_file),
        "candidates": [
            _whole(column, column.setup.name, file) | {"letter": letter, "differs": name}
            for column, file, letter, name in zip(of.columns, compared.files, of.marks, of.names, strict=True)
        ],
        "used": list(compared.used),
        "warnings": warnings(of),
    }


def _whole(column: BikeColumn, name: str, file: str) -> dict[str, object]:
    """The column with what only some bikes have: indexing, wear, hub, belt, motor, fixed wheel."""
    extra = [
        {
            "name": fact.name,
            "status": fact.status.value,
            "figure": rounded(fact.figure),
            "unit": fact.unit,
            "say": fact.say,
        }
        for fact in extra_facts(column.study)
    ]
    return _column(column, name, file) | {"extra": extra}


def _column(column: BikeColumn, name: str, file: str) -> dict[str, object]:
    sheet, ride, summary = column.sheet, column.course, column.study.summary
    return {
        "name": name,
        "file": file,
        "rings": list(column.setup.crank.rings),
        "cogs": list(column.setup.rear.cogs),
        "low_m": rounded(summary.lowest_m),
        "high_m": rounded(summary.highest_m),
        "range_pct": rounded(summary.range_pct),
        "distinct": summary.distinct,
        "jumps": summary.jumps,
        "worst_step_pct": rounded(summary.worst_rear_step_pct),
        "steepest_pct": rounded(column.ride.steepest_pct, 4),
        "steepest_short_pct": rounded(column.ride.steepest_short_pct, 4),
        "course_s": None if ride is None else rounded(ride.total_s, 4),
        "fit": column.tally.worst.value,
        "parts_cost": None if sheet is None else rounded(sheet.price, 2),
        "labour_cost": None if sheet is None else rounded(sheet.labour_cost, 2),
        "total": None if sheet is None else rounded(sheet.total, 2),
        "grinding_s": None if ride is None else rounded(ride.grinding_s, 4),
        "spin_out_kmh": rounded(column.ride.spin_out_kmh, 4),
        "chain": column.chain_to_fit,
        "mass_change_g": None if sheet is None else round(sheet.mass_change_g, 1),
        "currency": column.currency or None,
        "fit_count": column.tally.number,
        "fit_unknown": column.tally.unknown,
        "fit_with_parts": None if column.fit_with_parts is None else column.fit_with_parts.worst.value,
    }


def compare_csv(compared: ComparedFiles) -> str:
    """One row a column, the baseline first; no cell that a sheet would run. `used` is the same in each."""
    of, base = compared.of, compared.of.baseline
    names = dict.fromkeys(fact.name for column in of.all for fact in extra_facts(column.study))
    named = zip(of.columns, compared.files, strict=True)
    used = " ".join(compared.used)
    rows = [("candidate", _flat(column, file, names, used)) for column, file in named]
    if base is not None:
        rows.insert(0, ("baseline", _flat(base, compared.baseline_file, names, used)))
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(["of", *rows[0][1]])
    writer.writerows([kind, *map(_cell, found.values())] for kind, found in rows)
    return out.getvalue()


def _flat(column: BikeColumn, file: str, names: Iterable[str], used: str) -> dict[str, object]:
    """A row: after what every bike has each of these facts, as three cells such as `hub_torque`,
    `hub_torque_unit` and `hub_torque_status`, empty for a bike without it."""
    found = {fact.name: fact for fact in extra_facts(column.study)}
    row = _column(column, column.setup.name, file) | {"used": used}
    for name in names:
        fact, key = found.get(name), name.replace(" ", "_").replace("-", "_").lower()
        row[key] = None if fact is None else rounded(fact.figure)
        row[f"{key}_unit"] = None if fact is None else fact.unit
        row[f"{key}_status"] = None if fact is None else fact.status.value
    return row


def _cell(value: object) -> object:
    if isinstance(value, list):
        return " ".join(map(str, value))
    return csv_cell(value) if isinstance(value, str) else value
