"""Course files: TOML, CSV and GPX, the sound ones, the broken ones and the hostile ones."""

import math
import random
import sys
import time
from collections.abc import Callable
from pathlib import Path
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cogwright.core.common.errors import InputError
from cogwright.core.riding.course_ride import on_course
from cogwright.core.riding.recording import Place, apart
from cogwright.core.riding.track.recorded import from_track
from cogwright.core.study import study
from cogwright.store.courses import course_files, read_course
from cogwright.store.documents import read_setup
from cogwright.store.tracks.xml_stream import MAX_DEPTH
from support import ROOT, long_run, parse_csv, parse_gpx

SETUPS = ROOT / "setups"
GPX = '<gpx xmlns="http://www.topografix.com/GPX/1/1"><trk><name>{name}</name><trkseg>{points}</trkseg></trk></gpx>'


def gpx(points: list[tuple[float, float, float]], name: str = "A ride") -> bytes:
    """A GPX file of (lat, lon, height) points."""
    rows = "".join(f'<trkpt lat="{lat}" lon="{lon}"><ele>{h}</ele></trkpt>' for lat, lon, h in points)
    return GPX.format(name=name, points=rows).encode()


def north(metres: float) -> float:
    """Degrees of latitude that a distance in m is on a sphere of 40,030.17 km girth (mean Earth)."""
    return metres / 40_030_173.6 * 360.0


def write(folder: Path, name: str, text: str | bytes) -> Path:
    """A file with that content."""
    path = folder / name
    path.write_bytes(text.encode() if isinstance(text, str) else text)
    return path


def problems(path: Path) -> list[str]:
    """What is wrong with a course file, as it is printed, without its folder."""
    with pytest.raises(InputError) as caught:
        read_course(path)
    return [str(p).removeprefix(f"{path.parent}/") for p in caught.value.problems]


def test_toml_pieces(tmp_path: Path) -> None:
    """Pieces are taken as they stand, from the height of the start."""
    path = write(
        tmp_path,
        "a.toml",
        'format = 1\nname = "A"\nstart_height_m = 100\n'
        '[[pieces]]\nlength_m = 1000\ngrade_pct = 6\nname = "bends"\n'
        "[[pieces]]\nlength_m = 500\ngrade_pct = -2\n",
    )
    course = read_course(path)
    assert [(p.length_m, p.grade, p.name) for p in course.pieces] == [(1000, 0.06, "bends"), (500, -0.02, "")]
    assert course.heights_m[1] == pytest.approx(100 + 1000 * math.sin(math.atan(0.06)))


def test_toml_points(tmp_path: Path) -> None:
    """Points are taken as they stand, or smoothed when they say that they were recorded."""
    text = 'format = 1\nname = "A"\npoints = [[0, 100], [10000, 700], [12000, 650]]\n'
    course = read_course(write(tmp_path, "a.toml", text))
    assert [round(p.grade, 3) for p in course.pieces] == [0.06, -0.025]
    rng = random.Random(2)
    noisy = [[10 * i, round(100 + 0.06 * min(10 * i, 4000) + rng.gauss(0, 0.5), 2)] for i in range(600)]
    text = f'format = 1\nname = "B"\nrecorded = true\npoints = {noisy}\n'
    smoothed = read_course(write(tmp_path, "b.toml", text))
    assert smoothed.ascent_m == pytest.approx(240, abs=2)
    assert smoothed.climb_doubt_m is not None


@pytest.mark.parametrize(
    ("body", "said"),
    [
        ("", "the course has no road, or two"),
        ("points = [[0, 1]]", "the course has no road, or two"),
        (
            "points = [[0, 1], [10, 2]]\n[[pieces]]\nlength_m = 5\ngrade_pct = 0",
            "the course has no road, or two",
        ),
        ("points = [[0, 1], [0, 2]]", "the distance 0 does not come after 0"),
        ("points = [[0, 1], [10, 20]]", "steeper than 50 %"),
        ("recorded = true\npoints = [[0, 1], [4, 1]]", "leads nowhere"),
        ("points = [[0, nan], [10, 20]]", "points"),
        ("[[pieces]]\nlength_m = 5\ngrade_pct = 80", "grade_pct"),
        ("[[pieces]]\nlength = 5\ngrade_pct = 8", "length_m"),
    ],
)
def test_broken_toml_is_named(tmp_path: Path, body: str, said: str) -> None:
    """Each mistake is said with its file, and no other error gets out."""
    found = problems(write(tmp_path, "a.toml", f'format = 1\nname = "A"\n{body}\n'))
    assert any(said in one and one.startswith("a.toml") for one in found), found


@pytest.mark.parametrize(
    "text",
    [
        "distance_m,height_m\n0,10\n1000,70\n",
        "0,10\n1000,70\n",
        "# surveyed\n\nheight_m;distance_km\n10;0\n70;1,0\n",
        "km\televation\n0\t10\n1.0\t70\n",
    ],
)
def test_csv_in_several_hands(text: str) -> None:
    """Separators, decimal commas, units and the order of columns are understood."""
    assert parse_csv(text) == [(0.0, 10.0), (1000.0, 70.0)]


def test_csv_problems_are_all_named_at_once(tmp_path: Path) -> None:
    """Line, content and reason of each."""
    path = write(tmp_path, "a.csv", "distance_m,height_m\n0,10\nfar,20\n50,30\n40,30\n60,99999\n")
    found = problems(path)
    assert [one.split(":")[1] for one in found] == ["3", "5", "6"]
    assert "falls" in found[1]
    assert problems(write(tmp_path, "b.csv", "time,heart\n0,10\n"))[0].startswith("b.csv:1")
    assert "no points" in problems(write(tmp_path, "c.csv", "\n\n"))[0]
    assert "UTF-8" in problems(write(tmp_path, "d.csv", b"\xff\xfe1"))[0]
    assert "leads nowhere" in problems(write(tmp_path, "e.csv", "0,10\n4,10\n"))[0]


def test_other_endings_are_refused(tmp_path: Path) -> None:
    """A course is known by its ending, whatever its case."""
    assert "no kind of course" in problems(write(tmp_path, "a.txt", "0,1"))[0]
    assert read_course(write(tmp_path, "A.CSV", "0,10\n1000,20\n")).name == "A"


def test_gpx_track_has_its_length_and_climb(tmp_path: Path) -> None:
    """10 km due north rising 500 m: 5 % from end to end."""
    points = [(50 + north(20.0 * i), 8.0, 100 + i) for i in range(501)]
    course = read_course(write(tmp_path, "a.gpx", gpx(points, "Long Rigg")))
    assert course.name == "Long Rigg"
    assert course.length_m == pytest.approx(10_000 * math.hypot(1, 0.05), rel=1e-3)
    assert all(p.grade == pytest.approx(0.05, abs=1e-4) for p in course.pieces)


def test_distance_on_the_round_earth() -> None:
    """A quarter of the mean sphere's meridian is 10,007.5 km; a parallel at 60 N is half the equator."""
    assert apart(Place(0, 0), Place(90, 0)) == pytest.approx(10_007_543, rel=1e-5)
    assert apart(Place(60, 8), Place(60, 8.001)) == pytest.approx(
        0.5 * apart(Place(0, 8), Place(0, 8.001)), rel=1e-6
    )
    assert apart(Place(0, 179.9995), Place(0, -179.9995)) == pytest.approx(111.195, rel=1e-4)


def test_gpx_segments_routes_and_missing_heights() -> None:
    """Segments are strung together, routes stand in for tracks, points without height add distance."""
    segment = '<trkseg><trkpt lat="50" lon="8"><ele>1</ele></trkpt><trkpt lat="50.001" lon="8"/></trkseg>'
    other = '<trkseg><trkpt lat="50.002" lon="8"><ele>9</ele></trkpt></trkseg>'
    _, road = parse_gpx(f"<gpx><trk>{segment}{other}</trk></gpx>".encode())
    assert road == [(0.0, 1.0), (pytest.approx(222.39, abs=0.1), 9.0)]
    route = '<rtept lat="50" lon="8"><ele>1</ele></rtept><rtept lat="51" lon="8"><ele>2</ele></rtept>'
    name, road = parse_gpx(f"<gpx><rte><name>R</name>{route}</rte></gpx>".encode())
    assert (name, len(road)) == ("R", 2)


def test_extensions_do_not_disturb() -> None:
    """Heart rates, prefixes and other heights inside extensions are passed over."""
    inside = "<extensions><x:ele>9999999</x:ele><x:hr>150</x:hr></extensions>"
    point = '<trkpt lat="{}" lon="8"><ele> 12.5 </ele>' + inside + "<time>2024</time></trkpt>"
    _, road = parse_gpx(
        f"<gpx><trk><trkseg>{point.format(50)}{point.format(50.1)}</trkseg></trk></gpx>".encode()
    )
    assert [height for _, height in road] == [12.5, 12.5]


LAUGHS = (
    '<?xml version="1.0"?><!DOCTYPE lolz [<!ENTITY a "ha">'
    + "".join(f'<!ENTITY {chr(98 + i)} "{f"&{chr(97 + i)};" * 10}">' for i in range(12))
    + "]><gpx><trk><name>&m;</name></trk></gpx>"
)
EXTERNAL = '<!DOCTYPE gpx [<!ENTITY x SYSTEM "file:///etc/passwd">]><gpx><trk><name>&x;</name></trk></gpx>'
PARAMETER = '<!DOCTYPE gpx [<!ENTITY % x SYSTEM "http://127.0.0.1:9/x"> %x;]><gpx/>'
OUTER = '<!DOCTYPE gpx SYSTEM "http://127.0.0.1:9/gpx.dtd"><gpx/>'


@pytest.mark.parametrize("text", [LAUGHS, EXTERNAL, PARAMETER, OUTER], ids=["laughs", "file", "param", "dtd"])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-16", "utf-16-be"])
def test_document_types_are_refused_in_any_encoding(text: str, encoding: str) -> None:
    """Before parsing where the bytes show it, else at the declaration; nothing grows or is fetched."""
    data = text.encode(encoding)
    if encoding == "utf-16-be":
        data = b"\xfe\xff" + data
    started = time.perf_counter()
    with pytest.raises(InputError, match="document type"):
        parse_gpx(data)
    assert time.perf_counter() - started < 10  # it takes milliseconds


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "not valid XML"),
        ("<gpx><trk>", "not valid XML"),
        ("<html></html>", "no GPX file"),
        ("<gpx></gpx>", "no track"),
        ("<gpx><trk><trkseg/></trk></gpx>", "no track"),
        ('<gpx><trk><trkseg><trkpt lat="1" lon="1"/></trkseg></trk></gpx>', "single point"),
        ('<gpx><rte><rtept lat="1" lon="1"><ele>9</ele></rtept></rte></gpx>', "single point"),
        ('<gpx><trk><trkseg><trkpt lat="91" lon="1"/></trkseg></trk></gpx>', "latitude"),
        ('<gpx><trk><trkseg><trkpt lat="nan" lon="1"/></trkseg></trk></gpx>', "latitude"),
        ('<gpx><trk><trkseg><trkpt lon="1"/></trkseg></trk></gpx>', "latitude"),
        ('<gpx><trk><trkseg><trkpt lat="1" lon="1"><ele>inf</ele></trkpt></trkseg></trk></gpx>', "height"),
        (
            f'<gpx><trk><trkseg><trkpt lat="1" lon="1"><ele>{"9" * 5000}</ele></trkpt></trkseg></trk></gpx>',
            "height",
        ),
        ("<gpx>" * (MAX_DEPTH + 1), "too deep"),
        ("<gpx>&undefined;</gpx>", "not valid XML"),
        ('<?xml version="1.0" encoding="klingon"?><gpx/>', "encoding"),
    ],
)
def test_broken_gpx_is_named(text: str, said: str) -> None:
    """Each mistake in plain words; no other error gets out."""
    with pytest.raises(InputError, match=said):
        parse_gpx(text.encode())


def test_a_track_without_heights_is_no_course(tmp_path: Path) -> None:
    points = "".join(f'<trkpt lat="{i / 1000}" lon="1"/>' for i in range(9))
    path = write(tmp_path, "a.gpx", f"<gpx><trk><trkseg>{points}</trkseg></trk></gpx>")
    assert "no heights" in problems(path)[0]


def test_deep_and_huge_files_end_soon(tmp_path: Path) -> None:
    """A million open elements, a token of 20 MB, a file beyond the limit: each refused at once."""
    for data in (b"<gpx>" * 1_000_000, b'<gpx a="' + b"x" * 20_000_000):
        started = time.perf_counter()
        with pytest.raises(InputError):
            parse_gpx(data)
        assert time.perf_counter() - started < 30  # it takes tenths of a second
    huge = tmp_path / "huge.gpx"
    with huge.open("wb") as file:
        file.truncate(1_000_000_000)
    assert "too large" in problems(huge)[0]


def test_names_are_cleaned_and_short() -> None:
    """A name that holds an escape sequence, or a megabyte, comes out harmless."""
    name, _ = parse_gpx(gpx([(50, 8, 1), (51, 8, 2)], "a&#x9b;31m\u202e" + "b" * 100_000))
    assert name.startswith("a 31mb")
    assert len(name) <= 200


def only_clean_errors(read: Callable[[], object]) -> None:
    """Reading works or raises InputError with a text; any other exception fails the test."""
    try:
        read()
    except InputError as error:
        message = str(error)
    else:
        message = "read"
    assert message


@pytest.mark.long
@settings(max_examples=long_run(300, 15))
@given(st.binary(max_size=300) | st.text(max_size=300).map(lambda t: f"<gpx>{t}</gpx>".encode()))
def test_any_bytes_give_a_track_or_a_clean_error(data: bytes) -> None:
    """No exception but InputError leaves the GPX reader."""
    only_clean_errors(lambda: parse_gpx(data))


@pytest.mark.long
@settings(max_examples=long_run(300, 15))
@given(st.text(alphabet='0123456789.,;\t\n"-eEhkm_#x', max_size=120))
def test_any_text_gives_points_or_a_clean_error(text: str) -> None:
    """No exception but InputError leaves the CSV reader."""
    only_clean_errors(lambda: parse_csv(text))


@pytest.mark.long
@settings(max_examples=long_run(40))
@given(st.lists(st.tuples(st.floats(0, 1e5), st.floats(-400, 5000)), min_size=2, max_size=40))
def test_any_points_make_a_course_that_can_be_ridden(points: list[tuple[float, float]]) -> None:
    """However wild the points, the smoothed road has finite grades, heights and times."""
    road = sorted(points)
    if road[-1][0] - road[0][0] < 10.0:
        return
    start = road[0][0]
    course = from_track("wild", [(at - start, height) for at, height in road])
    bench = read_setup(SETUPS / "yard-5-errand.toml").value
    assert 0 < on_course(study(bench), course).bench.total_s < math.inf


@pytest.mark.long(cases=0)
def test_two_hundred_kilometres_take_some_times_as_long_as_their_xml(tmp_path: Path) -> None:
    """20,000 points over 200 km: read, smoothed, and ridden by bench and baseline."""
    rng = random.Random(5)
    points = [
        (50 + north(10.0 * i), 8.0, round(400 + 200 * math.sin(i / 300) + rng.gauss(0, 1), 1))
        for i in range(long_run(20_000) + 1)
    ]
    path = write(tmp_path, "long.gpx", gpx(points))
    bench = read_setup(SETUPS / "yard-1-first-trial.toml").value
    base = read_setup(SETUPS / "yard-1-two-rings.toml").value
    started = time.process_time()
    both = on_course(study(bench, base), read_course(path))
    taken = time.process_time() - started
    started = time.process_time()
    ElementTree.parse(path)
    traced = sys.gettrace() is not None  # while coverage is measured
    assert traced or taken < 60 * (time.process_time() - started)  # some 20 times as long when it was written
    assert both.bench.course.length_m == pytest.approx(10 * long_run(20_000), rel=0.01)


def test_demo_courses_can_all_be_read() -> None:
    """Every course of the shop leads somewhere, and each of the three kinds is among them."""
    files = course_files(SETUPS)
    assert {path.suffix for path in files} == {".toml", ".csv", ".gpx"}
    for path in files:
        course = read_course(path)
        assert course.length_m > 1000
        assert course.steepest < 0.3
