"""The report and the check without the screen, as a user runs them: keys, formats, errors, exit status."""

import csv
import io
import json
import os
import shlex
import subprocess
import sys
from pathlib import Path

import pytest

from cogwright.core.common.safe_text import cells
from cogwright.core.study import study
from cogwright.present.lines import ASCII, UNICODE, Look, plain
from cogwright.present.report.data import CSV_HEAD, Report, as_csv, as_json, document
from cogwright.present.report.markdown import as_markdown, md
from cogwright.present.report.text import as_text
from support import ROOT, called, environment, forked_command, make

SETUPS = ROOT / "setups"
TRIAL, BASE = SETUPS / "yard-1-first-trial.toml", SETUPS / "yard-1-two-rings.toml"

#: The keys that scripts rely on. A key may be added, none renamed or dropped.
KEYS = {
    "": {"format", "setup", "wheel", "gears", "rear_steps", "summary", "comparison"},
    "setup": {"name", "file"},
    "wheel": {"circumference_m", "diameter_in", "source"},
    "summary": {"gears", "distinct", "range_pct", "lowest_m", "highest_m", "jumps"},
    "comparison": {
        "baseline",
        "low_change_pct",
        "high_change_pct",
        "lost_low",
        "lost_high",
        "worst_hole_pct",
        "gained_low",
        "gained_high",
    },
}
GEAR_KEYS = {
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
}
REAR_KEYS = {"ring", "from_cog", "to_cog", "step_pct", "jump"}


def test_json_has_the_keys_that_scripts_rely_on() -> None:
    done = called("report", TRIAL, "--baseline", BASE, "--format", "json")
    assert (done.returncode, done.stderr) == (0, "")
    found = json.loads(done.stdout)
    for key, names in KEYS.items():
        assert names <= (found[key] if key else found).keys(), key
    assert found["format"] == 1
    assert found["setup"]["file"] == str(TRIAL)
    assert all(gear.keys() >= GEAR_KEYS for gear in found["gears"])
    assert all(step.keys() >= REAR_KEYS for step in found["rear_steps"])


def test_json_figures_by_hand() -> None:
    """Worked by hand: 40x20 and 40x16 on a wheel of 2.000 m, against 42x14 and 42x21."""
    bench = make([40], [20, 16], rollout_mm=2000, crank={"length_mm": 170})
    base = make([42], [14, 21], rollout_mm=2000)
    found = json.loads(as_json(Report(study(bench, base), "a.toml", "b.toml")))
    low, high = found["gears"]
    assert (low["development_m"], high["development_m"]) == (4.0, 5.0)
    assert (low["step_pct"], high["step_pct"], high["flags"]) == (
        None,
        25.0,
        ["jump", "big-jump", "stands-out"],
    )
    assert low["speed_kmh"] == pytest.approx(4.0 * 85 * 60 / 1000)
    assert found["rear_steps"][0] | {"from_hub": 1, "to_hub": 1} == {
        "ring": 40,
        "from_cog": 20,
        "to_cog": 16,
        "from_hub": 1,
        "to_hub": 1,
        "step_pct": 25.0,
        "jump": True,
        "big_jump": True,
        "stands_out": True,
    }
    assert (found["summary"]["jumps"], found["summary"]["standing_out"]) == (1, 1)
    compared = found["comparison"]
    assert (compared["low_change_pct"], compared["high_change_pct"]) == (0.0, pytest.approx(-100 / 6))
    assert (compared["lost_low"], compared["lost_high"]) == ([], ["42x14"])
    assert compared["felt"] == {"lost_low": 0, "lost_high": 1, "gained_low": 0, "gained_high": 0}
    assert found["wheel"] == {
        "circumference_m": 2.0,
        "diameter_in": pytest.approx(25.0638, abs=1e-4),
        "source": "measured",
    }


def test_json_without_baseline_or_crank_length_says_null() -> None:
    found = document(Report(study(make([40], [20]))))
    assert found["comparison"] is None
    assert found["gears"][0]["gain_ratio"] is None  # type: ignore[index]


def test_gears_ascend_and_rear_steps_ascend_ring_by_ring() -> None:
    found = json.loads(as_json(Report(study(make([50, 34], [11, 13, 17, 28])))))
    developments = [gear["development_m"] for gear in found["gears"]]
    assert developments == sorted(developments)
    steps = [(s["ring"], s["from_cog"], s["to_cog"]) for s in found["rear_steps"]]
    assert steps == [(r, a, b) for r in (34, 50) for a, b in ((28, 17), (17, 13), (13, 11))]


def test_csv_is_one_row_a_gear_and_then_what_was_lost() -> None:
    """Worked by hand: 40 with 11, 20, 40 against 40 with 10, 15, 20: one gone above, one in a hole."""
    of = study(make([40], [11, 20, 40]), make([40], [10, 15, 20]))
    text = as_csv(Report(of))
    rows = list(csv.DictReader(io.StringIO(text)))
    assert tuple(rows[0]) == CSV_HEAD
    found = [(row["of"], row["cog"], row["flags"]) for row in rows]
    assert found[:3] == [
        ("bench", "40", ""),
        ("bench", "20", "jump big-jump stands-out"),
        ("bench", "11", "jump big-jump stands-out"),
    ]
    assert found[3:] == [("baseline", "15", "hole"), ("baseline", "10", "lost-high")]
    assert {len(row) for row in csv.reader(io.StringIO(text))} == {len(CSV_HEAD)}


def test_csv_on_the_command_line() -> None:
    done = called("report", TRIAL, "--baseline", BASE, "--format", "csv")
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.splitlines()[0] == ",".join(CSV_HEAD)


@pytest.mark.parametrize("name", ["=1+1", "+1", "-1", "@x", " =1", "\uff1d1", "\t=1"])
def test_csv_cells_do_not_run(name: str) -> None:
    text = as_csv(Report(study(make([40], [20]).model_copy(update={"name": name}))))
    rows = list(csv.reader(io.StringIO(text)))
    assert rows[1][1] == "'" + name


HOSTILE = "| `x` [a](javascript:b) <script> **b** # \\ &lt; ~~s~~ $x$"


def test_markdown_shows_hostile_names_as_they_stand() -> None:
    of = study(make([40], [20]).model_copy(update={"name": HOSTILE}))
    title = as_markdown(Report(of)).splitlines()[0].removeprefix("# ")
    for i, char in enumerate(title):
        if char in "`[]<*|#~$&":
            assert title[i - 1] == "\\", char
    assert md("a\nb\x1b[0m") == "a b \\[0m"


def test_markdown_tables_are_square() -> None:
    rows = [r for r in as_markdown(Report(study(make([40], [20, 16])))).splitlines() if r.startswith("|")]
    assert {row.count("|") for row in rows} == {rows[0].count("|")}


@pytest.mark.long(cases=4)
@pytest.mark.parametrize("width", [40, 60, 80, 120, 200])
@pytest.mark.parametrize("glyphs", [UNICODE, ASCII], ids=lambda g: g.name)
def test_text_fits_its_width(width: int, glyphs: object) -> None:
    of = Report(study(make([50, 34], [11, 13, 17, 28]), make([48, 30], [11, 15, 34])))
    rows = [plain(row) for row in as_text(of, Look(width=width, glyphs=glyphs))]  # type: ignore[arg-type]
    assert max(map(cells, rows)) <= width
    assert glyphs is UNICODE or "".join(rows).isascii()


def test_text_says_every_gear_and_every_loss() -> None:
    of = study(make([40], [16, 20], rollout_mm=2000), make([42], [14, 21], rollout_mm=2000))
    text = "\n".join(map(plain, as_text(Report(of), Look())))
    for said in ("40x20", "40x16", "42x14", "lost", "jump", "25.0", "5.00"):
        assert said in text, said


def test_text_says_that_the_file_names_a_baseline_until_one_is_given() -> None:
    bench = make([40], [16, 20]).model_copy(update={"baseline": "as-it-came.toml"})
    alone, both = (as_markdown(Report(study(bench, base))) for base in (None, make([42], [16])))
    assert "its file names as-it-came.toml as its baseline: --baseline compares the two" in alone
    assert "--baseline" not in both


def test_check_is_quiet_about_good_files() -> None:
    done = called("check", SETUPS)
    assert (done.returncode, done.stderr) == (0, "")


def test_check_says_every_problem_of_every_file(tmp_path: Path) -> None:
    good = BASE.read_text()
    (tmp_path / "a.toml").write_text(good.replace("28, 42", "5, 420").replace("clicks", "cliks"))
    (tmp_path / "b.toml").write_text("format = 1\nname = ")
    (tmp_path / "c.toml").write_text(good)
    done = called("check", *sorted(tmp_path.glob("*.toml")))
    assert done.returncode == 1
    problems = done.stderr.splitlines()
    assert sum("a.toml:" in line for line in problems) == 3
    assert sum("b.toml:" in line for line in problems) == 1
    assert not any("c.toml" in line for line in problems)
    assert "clicks" in done.stderr, "the nearest known key is named"


def test_a_caution_is_printed_and_is_no_problem(tmp_path: Path) -> None:
    path = tmp_path / "odd.toml"
    path.write_text(BASE.read_text().replace("40-622", "40-612"))
    done = called("check", path)
    assert done.returncode == 0
    assert "caution: " in done.stdout
    assert "612" in done.stdout


@pytest.mark.parametrize("args", [("report", "no.toml"), ("check", "no.toml"), ("no/such.toml",)])
def test_a_missing_file_is_said_and_exits_1(args: tuple[str, ...], tmp_path: Path) -> None:
    done = called(*args, cwd=tmp_path)
    assert done.returncode == 1
    assert "no" in done.stderr
    assert "Traceback" not in done.stderr


@pytest.mark.parametrize(
    "args", [("raport", "x.toml"), ("report",), ("report", "x", "--format", "xml"), ("--what",)]
)
def test_a_wrong_command_line_exits_2(args: tuple[str, ...], tmp_path: Path) -> None:
    done = called(*args, cwd=tmp_path)
    assert done.returncode == 2
    assert "usage" in done.stderr


def test_version_and_help() -> None:
    assert called("--version").stdout.startswith("cogwright ")
    done = called("--help")
    for said in ("examples:", "report", "check", "--baseline", "setups"):
        assert said in done.stdout, said
    assert "examples:" in called("report", "--help").stdout


LOADED = """
import shlex, sys
from cogwright.cli import main
for line in sys.stdin:
    status, loaded = main(shlex.split(line)), {module.split(".")[0] for module in sys.modules}
    print(status, [*loaded & {"textual", "rich", "tomlkit"}], file=sys.stderr)
"""


def test_no_subcommand_loads_textual_nor_what_edits_files() -> None:
    trial, base, setups = (shlex.quote(str(path)) for path in (TRIAL, BASE, SETUPS))
    lines = [
        f"report {trial} --baseline {base}",
        *(f"report {trial} --format {form}" for form in ("json", "csv", "markdown")),
        f"check {setups}",
        f"order {trial}",
        f"propose {base} --single",
        f"card {trial}",
        f"compare {trial}",
    ]
    argv = [sys.executable, "-c", LOADED]
    done = subprocess.run(
        argv,
        input="\n".join(lines),
        capture_output=True,
        text=True,
        check=True,
        env=environment(),
        timeout=60,
    )
    assert [row for row in done.stderr.splitlines() if row[0].isdigit()] == ["0 []"] * len(lines)


def shell(script: str) -> subprocess.CompletedProcess[str]:
    env = environment(PY=sys.executable, TRIAL=str(TRIAL))
    argv = ["bash", "-o", "pipefail", "-c", script]
    return subprocess.run(argv, capture_output=True, text=True, env=env, check=False, timeout=60)


def test_a_reader_that_leaves_ends_it_quietly() -> None:
    """The reader is gone before the first line is written, as when `head` has seen enough."""
    reader, writer = os.pipe()
    os.close(reader)
    assert forked_command("report", TRIAL, stdout=writer) == (0, "")
    os.close(writer)


@pytest.mark.long(cases=0)
def test_a_closed_stdout_is_said() -> None:
    done = shell('"$PY" -m cogwright report "$TRIAL" >&-')
    assert (done.stderr, done.returncode) == ("cannot write the output: standard output is closed\n", 1)


@pytest.mark.skipif(not os.path.exists("/dev/full"), reason="needs /dev/full")
def test_a_full_disk_is_said() -> None:
    with open("/dev/full", "wb") as full:
        status, said = forked_command("report", TRIAL, stdout=full.fileno())
    assert status == 1
    assert "Traceback" not in said
    assert "space" in said


def test_a_terminal_without_unicode_gets_ascii() -> None:
    done = called("report", TRIAL, encoding="latin-1")
    assert done.returncode == 0
    assert done.stdout.isascii()


def test_a_ring_of_more_teeth_than_are_made_is_a_caution(tmp_path: Path) -> None:
    path = tmp_path / "odd.toml"
    path.write_text(
        'format = 1\nname = "a"\n[wheel]\nsize = "40-622"\n[crank]\nrings = [110]\n[rear]\ncogs = [11]\n'
    )
    done = called("check", path)
    assert done.returncode == 0
    assert "a ring of 110 teeth is unusual" in " ".join(done.stdout.split())
    assert "caution" not in called("check", BASE).stdout
