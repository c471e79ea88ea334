"""Recorded rides from files of every kind: what is read, what is refused, and in how much room."""

import math
import random
import subprocess
import sys
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cogwright.core.common.errors import InputError
from cogwright.core.riding import recording
from cogwright.core.riding.recording import Recording
from cogwright.store.courses import read_course
from cogwright.store.tracks.gpx import read_gpx
from cogwright.store.tracks.read import read_recording
from cogwright.store.tracks.stream import stream
from cogwright.store.tracks.tcx import read_tcx
from fitwriter import EPOCH, RECORD, fit_file
from support import LONG, ROOT, environment, in_pieces, long_cases, long_run

#: A metre of latitude in degrees, on a sphere of 40,030.17 km girth (mean Earth).
METRE = 360.0 / 40_030_173.6


def stamp(second: float) -> str:
    return f"2024-05-01T{int(second) // 3600:02d}:{int(second) // 60 % 60:02d}:{int(second) % 60:02d}Z"


def gpx(rows: list[tuple[float, float, float, float | None]], extra: str = "") -> bytes:
    """A GPX track of (seconds, metres north, metres east, height) rows."""
    points = "".join(
        f'<trkpt lat="{north * METRE:.8f}" lon="{east * METRE:.8f}">'
        + (f"<ele>{height}</ele>" if height is not None else "")
        + f"<time>{stamp(second)}</time>{extra}</trkpt>"
        for second, north, east, height in rows
    )
    return f"<gpx><trk><name>Ride</name><trkseg>{points}</trkseg></trk></gpx>".encode()


def reading(folder: Path, data: bytes, name: str = "ride.dat") -> Recording:
    (folder / name).write_bytes(data)
    return read_recording(folder / name)


def test_a_stop_with_jitter_adds_no_distance(tmp_path: Path) -> None:
    """600 m at 6 m/s, ten minutes at a cafe with places that jitter by 3 m, 600 m on: 1,200 m, not 5 km."""
    rng = random.Random(3)
    rows: list[tuple[float, float, float, float | None]] = [(s, 6.0 * s, 0.0, 100.0) for s in range(101)]
    rows += [(100 + s, 600 + rng.gauss(0, 3), rng.gauss(0, 3), 100.0) for s in range(1, 601)]
    rows += [(700 + s, 600 + 6.0 * s, 0.0, 100.0) for s in range(1, 101)]
    ride = reading(tmp_path, gpx(rows))
    raw = sum(math.hypot(b[1] - a[1], b[2] - a[2]) for a, b in pairwise(rows))
    assert raw > 3000
    assert ride.length_m == pytest.approx(1200, abs=40)
    (tmp_path / "ride.gpx").write_bytes(gpx(rows))
    assert read_course(tmp_path / "ride.gpx").length_m == pytest.approx(1200, abs=40)


@pytest.mark.parametrize("speed", [1.0, 1.5, 3.0])
def test_walking_and_slow_climbing_are_no_stops(tmp_path: Path, speed: float) -> None:
    rows: list[tuple[float, float, float, float | None]] = [(s, speed * s, 0.0, 0.1 * s) for s in range(600)]
    assert reading(tmp_path, gpx(rows)).length_m == pytest.approx(599 * speed, rel=1e-3)


def test_a_track_without_times_keeps_its_points(tmp_path: Path) -> None:
    points = "".join(f'<trkpt lat="{3 * i * METRE:.8f}" lon="0"><ele>{i}</ele></trkpt>' for i in range(100))
    ride = reading(tmp_path, f"<gpx><trk><trkseg>{points}</trkseg></trk></gpx>".encode())
    assert ride.length_m == pytest.approx(297, rel=1e-3)
    assert not ride.timed
    assert not ride.has_speed


CADENCE = '<extensions><x:more xmlns:x="y"><x:hr>150</x:hr><x:cad>84</x:cad></x:more></extensions>'


def test_gpx_has_speed_from_places_and_cadence_from_its_extensions(tmp_path: Path) -> None:
    """7 m/s by time and place; speeds are means over some seconds, so the jitter of single ones goes."""
    rows: list[tuple[float, float, float, float | None]] = [(s, 7.0 * s, 0.0, 50.0) for s in range(60)]
    ride = reading(tmp_path, gpx(rows, CADENCE))
    assert ride.name == "Ride"
    assert set(ride.rpms) == {84.0}
    assert list(ride.seconds) == [float(s) for s in range(60)]
    assert list(ride.speeds) == pytest.approx([7.0] * 60, rel=1e-3)
    assert list(ride.heights_m) == [50.0] * 60


TCX = """<?xml version="1.0"?><TrainingCenterDatabase xmlns="http://www.example.org/v2">
<Activities><Activity><Notes>Over the hause</Notes><Lap><Track>{points}</Track></Lap></Activity>
</Activities></TrainingCenterDatabase>"""
TCX_POINT = """<Trackpoint><Time>{time}</Time><Position><LatitudeDegrees>{lat}</LatitudeDegrees>
<LongitudeDegrees>0</LongitudeDegrees></Position><AltitudeMeters>{height}</AltitudeMeters>
<DistanceMeters>{metres}</DistanceMeters><HeartRateBpm><Value>140</Value></HeartRateBpm><Cadence>{rpm}</Cadence>
<Extensions><TPX><Speed>{speed}</Speed></TPX></Extensions></Trackpoint>"""


def tcx(count: int) -> bytes:
    points = "".join(
        TCX_POINT.format(
            time=stamp(s), lat=s / 1e4, height=100 + s, metres=8.0 * s, rpm=80 + s % 3, speed=8.0
        )
        for s in range(count)
    )
    return TCX.format(points=points).encode()


def test_tcx(tmp_path: Path) -> None:
    """Distance, speed, cadence and height as the device wrote them; the place stands behind its distance."""
    ride = reading(tmp_path, tcx(50))
    assert ride.name == "Over the hause"
    assert ride.length_m == 392.0
    assert list(ride.metres[:3]) == [0.0, 8.0, 16.0]
    assert list(ride.rpms[:3]) == [80.0, 81.0, 82.0]
    assert set(ride.speeds) == {8.0}
    assert ride.heights_m[49] == 149.0


def moments(count: int) -> list[dict[str, float]]:
    return [
        {
            "timestamp": 1_700_000_000 - EPOCH + s,
            "position_lat": 5.0 + s * METRE,
            "position_long": 1.0,
            "altitude": 200.0 + 0.2 * s,
            "enhanced_altitude": 200.0 + 0.2 * s,
            "cadence": 70 + s % 20,
            "fractional_cadence": 0.5,
            "distance": 7.5 * s,
            "speed": 7.5,
            "enhanced_speed": 7.5,
        }
        for s in range(count)
    ]


@pytest.mark.parametrize("big", [False, True])
def test_fit(tmp_path: Path, big: bool) -> None:
    """Written by the published protocol in either order of bytes; scales and offsets are undone."""
    ride = reading(tmp_path, fit_file(moments(300), list(RECORD), big))
    assert ride.length_m == pytest.approx(7.5 * 299)
    assert list(ride.seconds[:3]) == [0.0, 1.0, 2.0]
    assert set(ride.speeds) == {7.5}
    assert ride.heights_m[10] == pytest.approx(202.0)
    assert ride.rpms[3] == 73.5


def test_fit_with_the_older_fields_and_gaps(tmp_path: Path) -> None:
    """Invalid values are unknown; without distances ways are those between places."""
    rows = [row | ({"cadence": math.nan} if s % 5 == 0 else {}) for s, row in enumerate(moments(100))]
    fields = ["timestamp", "position_lat", "position_long", "altitude", "cadence", "speed"]
    ride = reading(tmp_path, fit_file(rows, fields))
    assert math.isnan(ride.rpms[5])
    assert ride.rpms[6] == 76.0
    assert ride.length_m == pytest.approx(99.0, rel=0.01)
    assert ride.heights_m[50] == pytest.approx(210.0)
    assert set(ride.speeds) == {7.5}


RIDE_CSV = "time_s,speed_kmh,cadence_rpm,height_m\n" + "".join(
    f"{s},{18 + s % 2},{'' if s % 7 == 0 else 80},{100 + s}\n" for s in range(30)
)


def test_ride_csv(tmp_path: Path) -> None:
    """The columns that are promised; ways by speed and time: 18 and 19 km/h by turns for 29 s."""
    ride = reading(tmp_path, RIDE_CSV.encode())
    assert ride.length_m == pytest.approx(sum(18 + s % 2 for s in range(1, 30)) / 3.6)
    assert math.isnan(ride.rpms[7])
    assert ride.rpms[8] == 80.0
    assert ride.speeds[1] == pytest.approx(19 / 3.6)


def test_a_ride_makes_a_course_of_any_kind(tmp_path: Path) -> None:
    """The road under a ride: 0.2 m up every 7.5 m is 2.67 %."""
    (tmp_path / "a.fit").write_bytes(fit_file(moments(400), list(RECORD)))
    course = read_course(tmp_path / "a.fit")
    assert course.mean_grade == pytest.approx(0.2 / 7.5, rel=0.01)
    (tmp_path / "b.csv").write_text(RIDE_CSV)
    assert read_course(tmp_path / "b.csv").length_m > 100
    (tmp_path / "c.tcx").write_bytes(tcx(100))
    assert read_course(tmp_path / "c.tcx").steepest == pytest.approx(1 / 8, rel=0.01)


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"", "no FIT, TCX or GPX file"),
        (b"\x00\x01\x02\x03", "no FIT, TCX or GPX file"),
        (b"name,heart\n1,2\n", "no FIT, TCX or GPX file"),
        (b"time_s,cadence_rpm\n1,80\n", "names no time, or no speed"),
        (b"time_s,speed_kmh\n", "no moments"),
        (b"time_s,speed_kmh\n1,20\n1,20\n", "does not come after"),
        (b"time_s,speed_kmh\n1,900\n", "within 0 to 216 km/h"),
        (b"time_s,speed_kmh\n1,\xff\n", "not UTF-8"),
        (b"time_s,speed_kmh\n1," + b"2" * 20_000, "more than 10,000 characters"),
        (b"<html></html>", "no GPX file"),
        (b"<x/><!-- TrainingCenterDatabase -->", "no TCX file"),
        (tcx(3).replace(b"<Track>", b"<Track><!DOCTYPE a>"), "document type"),
        (TCX.format(points="").encode(), "no point"),
        (tcx(3).replace(b">0<", b">400<"), "longitude"),
        (b"<gpx><trk>" + b"<!-- " + b"x" * 2_000_000, "a million characters"),
        (fit_file(moments(30), list(RECORD))[:-40], "damaged, or not whole"),
        (fit_file(moments(30), list(RECORD))[:-1] + b"!", "damaged, or not whole"),
        (fit_file([], ["timestamp"]), "no ride in it"),
        (b"\x0e\x20\x54\x08\xff\xff\xff\x7f.FIT\x00\x00" + b"\x40" * 50, "damaged, or not whole"),
    ],
)
def test_what_cannot_be_read_is_named(tmp_path: Path, data: bytes, said: str) -> None:
    with pytest.raises(InputError, match=said) as caught:
        reading(tmp_path, data)
    assert "ride.dat" in str(caught.value)


SOUND = [
    gpx([(s, 5.0 * s, 0.0, 10.0) for s in range(20)], CADENCE),
    tcx(20),
    RIDE_CSV.encode(),
    fit_file(moments(20), list(RECORD)),
]


@settings(max_examples=long_run(600, 30))
@given(st.sampled_from(SOUND), st.data())
def test_spoilt_files_give_a_ride_or_a_clean_error(
    tmp_path_factory: pytest.TempPathFactory, sound: bytes, data: st.DataObject
) -> None:
    """Bytes changed, cut out or put in anywhere: no other error gets out."""
    at = data.draw(st.integers(0, len(sound)))
    spoilt = sound[:at] + data.draw(st.binary(max_size=6)) + sound[at + data.draw(st.integers(0, 40)) :]
    path = tmp_path_factory.getbasetemp() / "spoilt"
    path.write_bytes(spoilt)
    try:
        ride = read_recording(path)
    except InputError:
        return
    assert len(ride.metres) == len(ride.speeds) > 0


@given(st.sampled_from([1, 2, 3, 7, 64, 1000]))
def test_how_a_file_is_cut_into_pieces_does_not_matter(size: int) -> None:
    for read, data in ((read_gpx, SOUND[0]), (read_tcx, SOUND[1])):
        name, found = read(in_pieces(data, size))
        whole_name, whole = read([data])
        assert (name, list(found.seconds), list(found.rpms)) == (
            whole_name,
            list(whole.seconds),
            list(whole.rpms),
        )


def test_a_document_type_across_two_pieces_is_seen() -> None:
    for size in range(1, 12):
        with pytest.raises(InputError, match="document type"):
            read_gpx(in_pieces(b"<!DOCTYPE gpx><gpx></gpx>", size))


@pytest.mark.long
def test_progress_is_told_and_can_end_the_reading(tmp_path: Path) -> None:
    class Enough(Exception):
        pass

    def stop(share: float) -> None:
        if share > 0.3:
            raise Enough

    rows: list[tuple[float, float, float, float | None]] = [(s, 5.0 * s, 0.0, 10.0) for s in range(1500)]
    files = {"a.gpx": gpx(rows)} | ({"a.fit": fit_file(moments(6_000), list(RECORD))} if LONG else {})
    for name, data in files.items():
        (tmp_path / name).write_bytes(data)
        told: list[float] = []
        read_recording(tmp_path / name, told.append)
        assert told == sorted(told)
        assert told[-1] > 0.9
        with pytest.raises(Enough):
            read_recording(tmp_path / name, stop)


#: The most memory that a process has had, in kB; unlike `getrusage` it forgets the process that started it.
MEASURE = """
import sys
from pathlib import Path
from cogwright.store.courses import read_course
read_course(Path(sys.argv[1]))
[most] = [row for row in Path("/proc/self/status").read_text().splitlines() if row.startswith("VmHWM")]
print(most.split()[1])
"""


@pytest.mark.long(cases=0)
@pytest.mark.skipif(not Path("/proc/self/status").exists(), reason="the system does not tell it this way")
@pytest.mark.parametrize("kind", long_cases(["gpx", "csv"], 1))
def test_a_large_file_is_read_in_bounded_memory(tmp_path: Path, kind: str) -> None:
    """50 MB (in the long run; else 200 kB) within 150 MB of memory."""
    path, size, at = tmp_path / f"big.{kind}", long_run(50_000_000, 250), 0
    with path.open("w") as file:
        file.write("<gpx><trk><trkseg>\n" if kind == "gpx" else "distance_m,height_m\n")
        while file.tell() < size:
            row = '<trkpt lat="0" lon="{lon:.6f}"><ele>{h}</ele></trkpt>\n' if kind == "gpx" else "{m},{h}\n"
            for _ in range(1000):
                at += 1
                height = 100 + at % 977
                file.write(row.format(lon=5 * at * METRE, h=height, m=round(1.2 * at, 1)))
        file.write("</trkseg></trk></gpx>\n" if kind == "gpx" else "")
    argv = [sys.executable, "-c", MEASURE, str(path)]
    done = subprocess.run(
        argv, capture_output=True, text=True, check=False, env=environment(), cwd=ROOT, timeout=600
    )
    assert done.stderr == ""
    assert int(done.stdout) < 150_000


def test_progress_is_the_share_that_has_been_read(tmp_path: Path) -> None:
    """200 kB come in pieces of 64 kB or less: the share rises from at most a third to all."""
    path, told = tmp_path / "long.csv", list[float]()
    path.write_bytes(b"x" * 200_000)
    taken = b"".join(stream(path, told.append))
    assert len(taken) == 200_000
    assert told == sorted(told)
    assert 0.0 < told[0] < 0.34
    assert told[-1] == 1.0


def test_a_ride_of_more_moments_than_any_is_refused_in_every_kind_of_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(recording, "MOST_MOMENTS", 10)
    track = gpx([(float(s), 6.0 * s, 0.0, 100.0) for s in range(12)])
    for data in (track, tcx(12), fit_file(moments(12), list(RECORD)), RIDE_CSV.encode()):
        with pytest.raises(InputError, match=r"more (than|moments than)"):
            reading(tmp_path, data)


def test_a_speed_that_a_track_has_is_taken_as_it_stands(tmp_path: Path) -> None:
    """3 m a second by its places, 3.5 by the device."""
    track = gpx([(float(s), 3.0 * s, 0.0, 100.0) for s in range(60)], extra="<speed>3.5</speed>")
    assert set(reading(tmp_path, track).speeds) == {3.5}


def test_twenty_wrong_rows_of_a_ride_are_enough_and_a_row_without_a_time_is_one(tmp_path: Path) -> None:
    with pytest.raises(InputError) as told:
        reading(tmp_path, b"time_s,speed_kmh\n" + b",18\n" * 50)
    assert len(told.value.problems) == 20
    assert "the time is no number of seconds" in str(told.value)


def test_a_field_larger_than_any_is_an_error_of_the_file(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="not valid CSV"):
        reading(tmp_path, b"time_s,speed_kmh\n0," + b"1" * 200_000 + b"\n")
