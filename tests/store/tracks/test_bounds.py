"""What a field of a ride may say: each bound on both sides, in every kind of file; figures by hand."""

import math
from typing import Any

import pytest

from cogwright.core.common.errors import InputError
from cogwright.store.course_csv import RoadPoints, read_course_csv
from cogwright.store.tracks.csv_rows import rows
from cogwright.store.tracks.fields import HEIGHTS, RPMS, SPEEDS, WAYS, second_of, within
from cogwright.store.tracks.fit import _cadence, _moment, _number, _second, is_fit, read_fit
from cogwright.store.tracks.gpx import read_gpx
from cogwright.store.tracks.read import _is_xml, _reader, ride_files
from cogwright.store.tracks.ride_csv import is_ride, read_ride_csv
from cogwright.store.tracks.stream import beginning, stream
from cogwright.store.tracks.tcx import read_tcx
from fitwriter import EPOCH, fit_file


def gpx(*points: str, name: str = "") -> bytes:
    return f"<gpx><trk>{name}<trkseg>{''.join(points)}</trkseg></trk></gpx>".encode()


def at(lat: object, lon: object, inside: str = "") -> str:
    return f'<trkpt lat="{lat}" lon="{lon}">{inside}</trkpt>'


@pytest.mark.parametrize(
    ("lat", "lon", "taken"),
    [(90, 180, True), (-90, -180, True), (90.1, 0, False), (-90.1, 0, False), (0, 180.1, False),
     (0, -180.1, False), ("", 0, False), ("x", 0, False), ("nan", 0, False)],
)  # fmt: skip
def test_places_on_the_globe(lat: object, lon: object, taken: bool) -> None:
    data = gpx(at(0, 0), at(lat, lon))
    if taken:
        assert len(read_gpx([data])[1]) == 2
    else:
        with pytest.raises(InputError, match=r"is not a (latitude|longitude) in degrees"):
            read_gpx([data])


def test_the_fields_of_a_point() -> None:
    inside = "<ele>7.5</ele><time>1970-01-01T00:01:00Z</time><speed>5.5</speed><cad>80</cad>"
    _, found = read_gpx([gpx(at(50, 8, inside), at(50, 9))])
    assert (found.seconds[0], found.heights[0], found.speeds[0], found.rpms[0]) == (60.0, 7.5, 5.5, 80.0)
    assert math.isnan(found.heights[1])
    assert (found.lats[1], found.lons[1]) == (50.0, 9.0)
    with pytest.raises(InputError, match="is not a height in m"):
        read_gpx([gpx(at(50, 8, "<ele>9001</ele>"), at(50, 9))])


def test_names_of_gpx_are_those_of_track_route_or_file_and_the_first_counts() -> None:
    two = at(0, 0) + at(0, 1)
    assert read_gpx([gpx(two, name="<name> A\x09b </name>")])[0] == "A b"
    first = f"<gpx><metadata><name>M</name></metadata><trk><name>T</name><trkseg>{two}</trkseg></trk></gpx>"
    assert read_gpx([first.encode()])[0] == "M"
    other = f"<gpx><wpt><name>W</name></wpt><trk><trkseg>{two}</trkseg></trk></gpx>"
    assert read_gpx([other.encode()])[0] == ""
    inner = f"<gpx><trk><trkseg>{at(0, 0, '<name>P</name>')}{at(0, 1)}</trkseg></trk></gpx>"
    assert read_gpx([inner.encode()])[0] == ""


def test_a_track_comes_before_a_route_and_wants_two_points() -> None:
    route = '<rte><rtept lat="1" lon="1"/><rtept lat="2" lon="2"/></rte>'
    both = f"<gpx>{route}<trk><trkseg>{at(3, 3)}{at(4, 4)}{at(5, 5)}</trkseg></trk></gpx>"
    assert list(read_gpx([both.encode()])[1].lats) == [3.0, 4.0, 5.0]
    assert list(read_gpx([f"<gpx>{route}</gpx>".encode()])[1].lats) == [1.0, 2.0]
    for data, why in ((gpx(at(0, 0)), "a single point"), (b"<gpx></gpx>", "there is no track in it")):
        with pytest.raises(InputError, match=why):
            read_gpx([data])


TCX = (
    '<TrainingCenterDatabase xmlns="x"><Activities><Activity><Notes>N</Notes><Lap><Track>{}</Track></Lap>'
    "</Activity></Activities></TrainingCenterDatabase>"
)


@pytest.mark.parametrize(
    ("lat", "lon", "taken"),
    [
        (90, 180, True),
        (-90, -180, True),
        (90.1, 0, False),
        (-90.1, 0, False),
        (0, 180.1, False),
        (0, -180.1, False),
    ],
)
def test_places_of_tcx(lat: float, lon: float, taken: bool) -> None:
    degrees = f"<LatitudeDegrees>{lat}</LatitudeDegrees><LongitudeDegrees>{lon}</LongitudeDegrees>"
    place = f"<Position>{degrees}</Position>"
    points = "".join(f"<Trackpoint>{place}</Trackpoint>" for _ in range(2))
    if taken:
        assert list(read_tcx([TCX.format(points).encode()])[1].lats) == [lat, lat]
    else:
        with pytest.raises(InputError, match=r"is not a (latitude|longitude) in degrees"):
            read_tcx([TCX.format(points).encode()])


@pytest.mark.parametrize(
    ("bounds", "inside", "outside"),
    [(HEIGHTS, "-500 9000", "-500.1 9000.1"), (RPMS, "0 250", "-0.1 250.1"), (SPEEDS, "0 60", "-0.1 60.1"),
     (WAYS, "0 5000000", "-1 5000001")],
)  # fmt: skip
def test_numbers_within_bounds(bounds: tuple[float, float], inside: str, outside: str) -> None:
    assert [within(text, bounds) for text in inside.split()] == [float(text) for text in inside.split()]
    assert all(math.isnan(within(text, bounds)) for text in (*outside.split(), "nan", "inf", "", "x"))


def test_times_in_any_zone_and_none() -> None:
    """A day has 86,400 s; an hour east of Greenwich it is an hour earlier there."""
    assert second_of("1970-01-02T00:00:00Z") == second_of("1970-01-02T00:00:00") == 86_400.0
    assert second_of(" 1970-01-02T01:00:00+01:00 ") == 86_400.0
    assert all(map(math.isnan, map(second_of, ("", "x"))))


class Frame:
    """A record of a FIT file, already decoded."""

    def __init__(self, **fields: Any) -> None:
        self.fields = fields

    def get_value(self, name: str, fallback: Any) -> Any:
        return self.fields.get(name, fallback)


#: A degree in parts of 2^31 to half a turn.
DEGREE = 2**31 / 180.0


@pytest.mark.parametrize(
    ("lat", "lon", "known"),
    [
        (90, 180, True),
        (-90, -180, True),
        (90.01, 0, False),
        (0, 180.01, False),
        (-90.01, 0, False),
        (0, -180.01, False),
    ],
)
def test_places_of_fit(lat: float, lon: float, known: bool) -> None:
    place = _moment(Frame(position_lat=lat * DEGREE, position_long=lon * DEGREE)).place
    assert (place is not None) is known
    assert place is None or place == pytest.approx((lat, lon))


def test_fields_of_fit() -> None:
    """Better fields come before older ones; what is no number, or out of bounds, is not known."""
    moment = _moment(
        Frame(
            distance=7.0, enhanced_altitude=5.0, altitude=4.0, speed=3.0, cadence=80, fractional_cadence=0.5
        )
    )
    assert moment[2:] == (7.0, 5.0, 3.0, 80.5)
    assert moment.place is None
    assert _moment(Frame(altitude=4.0)).height_m == 4.0
    assert _cadence(Frame(cadence=80)) == 80.0
    assert math.isnan(_cadence(Frame(fractional_cadence=0.5)))
    assert math.isnan(_cadence(Frame(cadence=251)))
    assert _cadence(Frame(cadence=250, fractional_cadence=1.5)) == 250.0
    for value in (True, "7", None, 61.0, -1.0):
        assert math.isnan(_number(Frame(speed=value), "speed", SPEEDS))
    assert _number(Frame(speed=60), "speed", SPEEDS) == 60.0
    assert math.isnan(_second(Frame()))
    assert math.isnan(_second(Frame(timestamp=5)))
    assert is_fit(b"12345678.FIT")
    assert not is_fit(b"1234567.FIT8")


HEAD = "time_s,speed_kmh,cadence_rpm,height_m,distance_m"


@pytest.mark.parametrize(
    ("row", "why"),
    [
        ("0,216,250,9000,5000000", ""), ("0,0,0,-500,0", ""), ("10000000000,1,1,1,1", ""), ("1,,,,", ""),
        ("-1,1,1,1,1", "the time is no number of seconds from 0 up"), ("10000000001,1,1,1,1", "the time is"),
        ("1,216.1,1,1,1", "the speed is not within"), ("1,-0.1,1,1,1", "the speed is not within"),
        ("1,1,250.1,1,1", "the cadence is not within"), ("1,1,-0.1,1,1", "the cadence is not within"),
        ("1,1,1,9000.1,1", "the height is not within"), ("1,1,1,-500.1,1", "the height is not within"),
        ("1,1,1,1,5000001", "the distance is not within"), ("1,1,1,1,-1", "the distance is not within"),
        ("1,x,1,1,1", "the speed is not within"),
    ],
)  # fmt: skip
def test_rows_of_a_ride(row: str, why: str) -> None:
    data = f"{HEAD}\n{row}\n".encode()
    if why:
        with pytest.raises(InputError, match=why):
            read_ride_csv([data])
    else:
        assert len(read_ride_csv([data])[1]) == 1


def test_columns_of_a_ride_are_known_by_name_and_others_are_passed_over() -> None:
    _, found = read_ride_csv([b"heart,cadence_rpm,Time_S,speed_kmh\n150,80,7,36\n151,81,8,18\n"])
    assert (list(found.seconds), list(found.rpms), list(found.speeds)) == (
        [7.0, 8.0],
        [80.0, 81.0],
        [10.0, 5.0],
    )
    assert is_ride(b"# note\n\n TIME_S;speed\n")
    assert not is_ride(b"distance\ntime_s\n")


def test_rides_tell_twenty_problems_at_most() -> None:
    data = (HEAD + "\n" + "x,1,1,1,1\n" * 30).encode()
    with pytest.raises(InputError) as caught:
        read_ride_csv([data])
    assert len(caught.value.problems) == 20
    assert [p.line for p in caught.value.problems[:2]] == [2, 3]


@pytest.mark.parametrize(
    ("row", "why"),
    [
        ("0,-500", ""), ("5000000,9000", ""), ("5000001,0", "the distance is not within 0 to 5,000 km"),
        ("-1,0", "the distance is not within"), ("0,-500.1", "the height is not within -500 to 9,000 m"),
        ("0,9000.1", "the height is not within"), ("0,x", "two numbers are wanted"),
        ("0", "two numbers are wanted"),
    ],
)  # fmt: skip
def test_rows_of_a_course(row: str, why: str) -> None:
    data = f"distance_m,height_m\n{row}\n".encode()
    if why:
        with pytest.raises(InputError, match=why):
            read_course_csv([data])
    else:
        assert len(read_course_csv([data])) == 1


def test_columns_of_a_course() -> None:
    """By name, km as 1000 m, else the first two; the way counts from the first point."""
    km = read_course_csv([b"ele;x;km\n5;9;1\n6;9;1\n7;9;1,5\n"])
    assert list(km) == [(0.0, 5.0), (0.0, 6.0), (500.0, 7.0)]
    assert km.length_m == 500.0
    assert list(read_course_csv([b"10,1\n30,2\n"])) == [(0.0, 1.0), (20.0, 2.0)]
    assert (RoadPoints().length_m, list(RoadPoints())) == (0.0, [])
    for name in ("distance_m", "distance", "m"):
        assert list(read_course_csv([f"{name},altitude\n0,1\n2,1\n".encode()])) == [(0.0, 1.0), (2.0, 1.0)]
    assert list(read_course_csv([b"distance_km,elevation_m\n0,1\n2,1\n"])) == [(0.0, 1.0), (2000.0, 1.0)]
    for data, why in (
        (b"a,height\n1,2\n", "its first row names no distance, or no height"),
        (b"km,b\n1,2\n", "its first row names no distance, or no height"),
        (b"\n# x\n", "there are no points in it"),
        (b"m,ele\n5,1\n4,1\n", "the distance falls"),
    ):
        with pytest.raises(InputError, match=why):
            read_course_csv([data])


def test_courses_tell_twenty_problems_at_most() -> None:
    with pytest.raises(InputError) as caught:
        read_course_csv([b"m,ele\n" + b"x,1\n" * 30])
    assert len(caught.value.problems) == 20
    assert caught.value.problems[0].line == 2


def test_rows_of_csv() -> None:
    """Comments and empty rows are passed over; a semicolon or a tab in the first lines parts the fields."""
    found = list(rows([b"# a\n\n1;2,5\n", b" ;\n 3 ;4"], "f", "mend"))
    assert [(row.line, row.fields) for row in found] == [(3, ["1", "2,5"]), (5, ["3", "4"])]
    assert found[0].number(1) == 2.5
    assert (found[0].number(2), found[0].number(0)) == (None, 1.0)
    tab = list(rows([b"A\tb\n1\t2\n"], "f", "mend"))
    assert tab[0].names() == ["a", "b"]
    assert [row.fields for row in rows([b"\xef\xbb\xbf1,2"], "f", "mend")] == [["1", "2"]]


@pytest.mark.parametrize(
    ("start", "xml"),
    [
        (b"<gpx", True),
        (b"\xef\xbb\xbf <", True),
        (b"\xff\xfe<\0?\0", True),
        (b"\n\t<", True),
        (b"a<", False),
        (b"", False),
    ],
)
def test_what_begins_as_xml(start: bytes, xml: bool) -> None:
    assert _is_xml(start) is xml


def test_what_reads_a_file() -> None:
    assert _reader(b"<TrainingCenterDatabase", "f") is read_tcx
    assert _reader(b"<gpx>", "f") is read_gpx
    assert _reader(b"time_s,x\n", "f") is read_ride_csv
    with pytest.raises(InputError, match="no FIT, TCX or GPX"):
        _reader(b"a,b\n", "f")


def test_files_of_rides_beside_the_setups(tmp_path: Any) -> None:
    folder = tmp_path / "rides"
    folder.mkdir()
    for name in ("b.GPX", "a.fit", ".hidden.gpx", "c.txt", "d.tcx", "e.csv"):
        (folder / name).touch()
    assert [path.name for path in ride_files(tmp_path)] == ["a.fit", "b.GPX", "d.tcx", "e.csv"]
    assert ride_files(tmp_path / "none") == ()


def test_of_tcx_the_first_name_counts_and_the_names_of_points_do_not() -> None:
    points = "<Trackpoint><Time>1970-01-01T00:01:00Z</Time><Notes>P</Notes><Cadence>80</Cadence></Trackpoint>"
    name, found = read_tcx([TCX.format(points).replace("<Lap>", "<Lap><Name>L</Name>").encode()])
    assert (name, found.seconds[0], found.rpms[0]) == ("N", 60.0, 80.0)
    assert read_tcx([TCX.format(points).replace("<Notes>N</Notes>", "").encode()])[0] == ""
    with pytest.raises(InputError, match="there is no point in it"):
        read_tcx([TCX.format("").encode()])


def test_a_declaration_is_found_across_pieces_and_a_deep_file_refused() -> None:
    word = b"<!DOCTYPE gpx>"
    for cut in range(1, len(word)):
        with pytest.raises(InputError, match="a document type or entity is declared"):
            read_gpx([word[:cut], word[cut:], gpx(at(0, 0))])
    with pytest.raises(InputError, match="too deep"):
        read_gpx([b"<gpx>" + b"<a>" * 200])
    with pytest.raises(InputError, match="this is no GPX file: it starts with <kml>"):
        read_gpx([b"<kml>"])


def test_how_much_of_a_file_has_been_read(tmp_path: Any) -> None:
    """Two pieces and a half of 64 KiB; and of a FIT file from its first frame on."""
    path = tmp_path / "x"
    path.write_bytes(b"x" * (65_536 * 5 // 2))
    told: list[float] = []
    assert sum(map(len, stream(path, told.append))) == 65_536 * 5 // 2
    assert told == pytest.approx([0.4, 0.8, 1.0])
    assert beginning(path) == b"x" * 65_536
    moments = [{"timestamp": EPOCH + at, "speed": 5.0} for at in range(3)]
    path.write_bytes(fit_file(moments, ["timestamp", "speed"]))
    told.clear()
    read_fit(path, told.append)
    assert len(told) == 1
    assert 0.0 < told[0] <= 1.0


def test_heights_and_speeds_of_a_ride_in_any_kind_of_file_are_within_bounds() -> None:
    """Out of them, what a device says of a point is not known; its place counts all the same."""
    for inside, field in (
        ("<speed>61</speed>", "speeds"),
        ("<cad>251</cad>", "rpms"),
        ("<time>x</time>", "seconds"),
    ):
        _, found = read_gpx([gpx(at(50, 8, inside), at(50, 9))])
        assert math.isnan(getattr(found, field)[0])
        assert len(found) == 2
