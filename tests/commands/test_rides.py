"""Recorded rides on the command line, as a user runs it: keys, formats, errors, several rides."""

import csv
import io
import json
import re
import subprocess
import sys
from pathlib import Path

import pytest

from cogwright.commands import reading
from cogwright.core.common.safe_text import cells
from cogwright.core.gears.gears import gears_of
from cogwright.store.documents import read_setup, to_toml
from support import ROOT, called, environment, long_cases, make
from synthetic import Sensors, csv_of, random_ride, recorded

SETUPS = ROOT / "setups"
BIKE, BENCH = SETUPS / "yard-1-two-rings.toml", SETUPS / "yard-1-first-trial.toml"
RIDE, OTHER = SETUPS / "rides" / "crook-hause.csv", SETUPS / "rides" / "long-rigg.csv"

#: The keys that scripts rely on. A key may be added, none renamed or dropped.
KEYS = {
    "format",
    "setup",
    "seconds",
    "pedalled_s",
    "gears",
    "cadence",
    "below_s",
    "above_s",
    "on_bench",
}
GEAR_KEYS = {"ring", "cog", "hub", "time_s", "distance_m"}


def document(*args: str | Path) -> dict[str, object]:
    done = called("rides", *args, "--format", "json")
    assert (done.returncode, done.stderr) == (0, "")
    found: dict[str, object] = json.loads(done.stdout)
    return found


def test_json_has_the_keys_that_scripts_rely_on() -> None:
    found = document(BIKE, RIDE)
    assert set(found) >= KEYS
    assert found["format"] == 1
    assert found["setup"] == {"name": "Yard 1 tourer, two rings as it came in", "file": str(BIKE)}
    assert found["on_bench"] is None
    gears = found["gears"]
    assert isinstance(gears, list)
    assert [(g["ring"], g["cog"]) for g in gears] == [
        (gear.ring, gear.cog) for gear in gears_of(read_setup(BIKE).value)
    ]
    assert all(set(gear) >= GEAR_KEYS for gear in gears)
    assert isinstance(found["cadence"], list)
    assert all(set(row) >= {"rpm", "time_s"} for row in found["cadence"])


def test_times_add_up_in_json() -> None:
    """What is pedalled is spent in gears, or in none; and the ride's seconds are those of its last row."""
    found = document(BIKE, RIDE, "--bench", BENCH)
    gears, classes, bench = found["gears"], found["cadence"], found["on_bench"]
    assert isinstance(gears, list)
    assert isinstance(classes, list)
    assert isinstance(bench, dict)
    spent = sum(gear["time_s"] for gear in gears)
    assert spent + found["no_gear_s"] == pytest.approx(found["pedalled_s"], abs=0.1)
    assert sum(row["time_s"] for row in classes) == pytest.approx(spent, abs=0.1)
    assert sum(gear["time_s"] for gear in bench["gears"]) == pytest.approx(bench["pedalled_s"], abs=0.1)
    assert bench["pedalled_s"] == pytest.approx(spent, abs=0.1)
    assert found["seconds"] == float(RIDE.read_text().splitlines()[-1].split(",")[0])


@pytest.mark.long(cases=0)
def test_a_ride_of_a_known_bike_reads_back(tmp_path: Path) -> None:
    """An hour over random gears: time in each as the ride had it, to within the seconds of the shifts."""
    setup = make((28, 44), (12, 15, 19, 24, 30), rollout_mm=2105)
    bike, ride = tmp_path / "bike.toml", tmp_path / "ride.csv"
    bike.write_text(to_toml(setup))
    seconds = random_ride(gears_of(setup), 11, 3600, (30.0, 60.0))
    ride.write_text(csv_of(recorded(seconds, Sensors("always", drops=0.01))))
    gears = document(bike, ride)["gears"]
    assert isinstance(gears, list)
    for gear in gears:
        true = sum(
            now.pedalled and (now.gear.ring, now.gear.cog) == (gear["ring"], gear["cog"]) for now in seconds
        )
        assert gear["time_s"] == pytest.approx(true, abs=0.03 * 3600 / len(gears) + 10)


@pytest.mark.long(cases=0)
def test_several_rides_add_up() -> None:
    alone = [document(BIKE, ride) for ride in (RIDE, OTHER)]
    both = document(BIKE, RIDE, OTHER)
    for key in ("seconds", "pedalled_s", "below_s", "above_s", "distance_m"):
        assert both[key] == pytest.approx(sum(one[key] for one in alone), abs=0.01)  # type: ignore[misc]
    assert isinstance(both["rides"], list)
    assert [ride["file"] for ride in both["rides"]] == [str(RIDE), str(OTHER)]


@pytest.mark.long(cases=0)
def test_every_format_tells_the_same_times() -> None:
    """JSON, CSV, text and Markdown: the time in the lowest gear is one figure."""
    found = document(BIKE, RIDE)
    gears = found["gears"]
    assert isinstance(gears, list)
    lowest = gears[0]["time_s"]
    table = list(csv.DictReader(io.StringIO(called("rides", BIKE, RIDE, "--format", "csv").stdout)))
    assert float(table[0]["time_s"]) == lowest
    assert [row["cog"] for row in table] == [str(gear["cog"]) for gear in gears]
    for form in ("text", "markdown"):
        out = called("rides", BIKE, RIDE, "--format", form).stdout
        told = re.search(r"28.30 .*?(\d+):(\d\d) +[\d.]+ %", out)
        assert told
        assert 60 * int(told[1]) + int(told[2]) == pytest.approx(lowest, abs=1)
        assert f"never used: {', '.join(found['never_used'])}" in " ".join(out.split())  # type: ignore[arg-type]


def test_text_keeps_to_its_width() -> None:
    done = called("rides", BIKE, RIDE, "--bench", BENCH)
    assert max(map(cells, done.stdout.splitlines())) <= 80
    assert "On the bench" in done.stdout


def test_a_ride_without_cadence_gives_speeds_alone(tmp_path: Path) -> None:
    ride = tmp_path / "plain.csv"
    ride.write_text("time_s,speed_kmh\n" + "".join(f"{s},24\n" for s in range(60)))
    out = called("rides", BIKE, ride).stdout
    assert "No cadence was recorded" in out
    assert "20-24" in out
    assert "never used" not in out
    found = document(BIKE, ride)
    assert found["speed"] == [{"kmh": 20, "time_s": 59.0}]
    assert found["pedalled_s"] == 0.0


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("time_s,height_m\n0,1\n1,2\n", "speed"),
        ("<gpx><trkpt lat='1' lon='1'/><trkpt lat='1.1' lon='1'/></gpx>", "no times"),
        ("<!DOCTYPE gpx [<!ENTITY a 'b'>]><gpx/>", "document type"),
        ("what is this", "no"),
        ("", ""),
    ],
)
def test_what_is_no_ride_says_why_and_names_the_file(tmp_path: Path, text: str, said: str) -> None:
    file = tmp_path / "ride.bin"
    file.write_text(text)
    done = called("rides", BIKE, file)
    assert done.returncode == 1
    assert "ride.bin" in done.stderr
    assert said in done.stderr
    assert "Traceback" not in done.stderr


def test_nothing_is_written(tmp_path: Path) -> None:
    called("rides", BIKE, RIDE, cwd=tmp_path)
    assert list(tmp_path.iterdir()) == []


class Terminal(io.StringIO):
    """Standard error on a terminal."""

    def isatty(self) -> bool:
        return True


def test_how_far_a_large_file_is_read_is_told_on_a_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    told = Terminal()
    monkeypatch.setattr("sys.stderr", told)
    course = SETUPS / "courses" / "long-rigg.gpx"
    for least, said in ((10**9, ""), (0, "100 % read\n")):
        monkeypatch.setattr(reading, "LARGE", least)
        reading.ride_from(RIDE)
        reading.course_from(course)
        assert told.getvalue() == "".join(f"\r{file.name}: {said}" for file in (RIDE, course) if said)


#: The most memory that the command has had, in kB, told on its last line.
MEASURE = """
import sys
from cogwright.cli import main
sys.argv = ["cogwright", *sys.argv[1:]]
main()
[most] = [row for row in open("/proc/self/status") if row.startswith("VmHWM")]
print(most.split()[1])
"""


@pytest.mark.long
@pytest.mark.skipif(not Path("/proc/self/status").exists(), reason="the system does not tell it this way")
@pytest.mark.parametrize("moments", long_cases([300_000], 0))
def test_a_ride_of_days_is_looked_at_in_bounded_memory(tmp_path: Path, moments: int) -> None:
    """Pedalled without a stop, on the bike and on a bench. Looked at in one piece it takes 120 MB."""
    ride = tmp_path / "days.csv"
    with ride.open("w") as file:
        file.write("time_s,speed_kmh,cadence_rpm\n")
        for second in range(moments):
            file.write(f"{second},{20 + second // 60 % 15},{70 + second // 45 % 20}\n")
    argv = [sys.executable, "-c", MEASURE, "rides", str(BIKE), str(ride), "--bench", str(BENCH)]
    done = subprocess.run(
        argv, capture_output=True, text=True, check=True, env=environment(), cwd=ROOT, timeout=300
    )
    assert int(done.stdout.split()[-1]) < 90_000
