"""Setup files: what is read is what was written, and what is wrong is said with its line and its mending."""

from pathlib import Path

import pytest
from pydantic import BaseModel

from cogwright.core.common.errors import InputError
from cogwright.core.setup.model import Setup
from cogwright.core.setup.unusual import cautions
from cogwright.store.documents import parse, read_setup, to_toml
from cogwright.store.problems import wanted
from cogwright.store.toml_lines import comments_in, line_index

GOOD = """\
format = 1
name = "Yard 7 tourer"  # as it came in
notes = '''
two
lines'''

[wheel]
size = "40-622"

[crank]
length_mm = 170
rings = [46, 30]

[rear]
cogs = [
  11, 13, 15,
  17, 19, 21,
]
carriers = [[19, 21]]
"""


def said(text: str) -> list[str]:
    """The problems of a text, one line each."""
    with pytest.raises(InputError) as caught:
        parse(text, Setup, "a.toml")
    return str(caught.value).splitlines()


def test_reads_and_orders() -> None:
    setup = parse(GOOD, Setup)
    assert setup.crank.rings == (30, 46)
    assert setup.rear.cogs == (11, 13, 15, 17, 19, 21)
    assert setup.notes == "two\nlines"


def test_writes_teeth_on_one_line_and_only_what_differs() -> None:
    text = to_toml(parse(GOOD, Setup))
    assert text.startswith("format = 1\nname = ")
    assert "cogs = [11, 13, 15, 17, 19, 21]\ncarriers = [[19, 21]]\n" in text
    assert "length_mm = 170\n" in text
    assert "rider" not in text
    assert "clicks" not in text
    assert parse(text, Setup) == parse(GOOD, Setup)


@pytest.mark.parametrize(
    ("changes", "both"),
    [
        # A bad tooth count does not hide that others stand there twice.
        ([("[46, 30]", "[46, 30, 46, 5]")], ("5 is too small", "crank.rings: 46 teeth stand there more")),
        # Nor does a misspelt table or key hide what is wrong in it, and it is not missing as well.
        (
            [("[crank]", "[crnk]"), ("170", "-1")],
            ("did you mean crank?", "11: crnk.length_mm: -1 is too small"),
        ),
        ([("size =", "siez ="), ("40-622", "4-622")], ("did you mean size?", "siez: '4-622' is not a tyre")),
        # Nor one bad key of a table what its keys say together.
        (
            [("carriers = [[19, 21]]", 'clicks = "x"\ncarriers = [[19, 21], [17, 19]]')],
            ('"x" is not a whole number', "rear: a cog is riveted to two carriers"),
        ),
    ],
)
def test_one_problem_does_not_hide_another(changes: list[tuple[str, str]], both: tuple[str, str]) -> None:
    text = GOOD
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    found = said(text)
    assert len(found) == 2, found
    assert all(any(words in line for line in found) for words in both), found


def test_what_is_left_out_of_a_table_is_not_called_missing() -> None:
    assert len(said(GOOD.replace('"40-622"', "7"))) == 1
    assert len(said(GOOD.replace("[46, 30]", '["x", 5]'))) == 2


def test_a_band_the_wrong_way_round_says_how_to_write_it() -> None:
    (line,) = said(GOOD + "[limits]\nchain_width_mm = [5.7, 5.4]\n")
    assert line.endswith("limits.chain_width_mm: the greatest stands before the least; write [5.4, 5.7]")


def test_all_problems_at_once_each_with_its_line() -> None:
    text = GOOD.replace("46", "5").replace("length_mm", "lenght_mm").replace("17, 19,", "17, 19.5,")
    assert said(text) == [
        "a.toml:11: crank.lenght_mm: unknown key; did you mean length_mm?",
        "a.toml:12: crank.rings[1]: 5 is too small; give 6 to 130 teeth",
        "a.toml:17: rear.cogs[5]: 19.5 is not a whole number; give 6 to 130 teeth",
    ]


def test_errors_of_form_and_of_value_are_said_together() -> None:
    text = (
        GOOD.replace('"40-622"', '"40-622')
        .replace("170", "")
        .replace("[46, 30]", "[46, 46]")
        .replace("[[19, 21]]", "[[19, 21]]\nclicks = 99\nsmallest_cog == 11")
    )
    assert [line.split(";")[0] for line in said(text)] == [
        "a.toml:8: not valid TOML: Illegal character '\\n', column 15",
        "a.toml:11: not valid TOML: Invalid value, column 13",
        "a.toml:12: crank.rings: 46 teeth stand there more than once",
        "a.toml:20: rear.clicks: 99 is too large",
        "a.toml:21: not valid TOML: Invalid value, column 15",
    ]


def test_lines_of_every_way_to_write_a_key() -> None:
    text = """\
a.b = 1
"c.d" = { e = 1, f = [
  2,
  { g = 3 } ] }
h = \'\'\'
[not.a.table]
# no comment \'\'\'
[t . u]  # a comment with [brackets] = "and quotes
v = "#"
[[w]]
x = [[1, 2],
     [3]]
[[w]]
x = 0.5
[w.y]
z = 1979-05-27T07:32:00Z
"""
    index = line_index(text)
    assert index == {
        ("a",): 1, ("a", "b"): 1,
        ("c.d",): 2, ("c.d", "e"): 2, ("c.d", "f"): 2, ("c.d", "f", 0): 3, ("c.d", "f", 1): 4,
        ("c.d", "f", 1, "g"): 4, ("h",): 5, ("t", "u"): 8, ("t", "u", "v"): 9,
        ("w",): 10, ("w", 0): 10, ("w", 0, "x"): 11, ("w", 0, "x", 0): 11, ("w", 0, "x", 0, 0): 11,
        ("w", 0, "x", 0, 1): 11, ("w", 0, "x", 1): 12, ("w", 0, "x", 1, 0): 12,
        ("w", 1): 13, ("w", 1, "x"): 14, ("w", 1, "y"): 15, ("w", 1, "y", "z"): 16,
    }  # fmt: skip


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("[46, 30]", "[46, 46]", "a.toml:12: crank.rings: 46 teeth stand there more than once"),
        ("[46, 30]", "[131]", "131 is too large; give 6 to 130 teeth"),
        ("[46, 30]", "[]", "too few stand in the list; give 1 or more"),
        ("[46, 30]", "46", "46 is not a list in [brackets]"),
        ("170", "nan", "nan is not a finite number; give 50 to 300 mm"),
        ("170", "inf", "crank.length_mm: inf is not a finite number"),
        ("170", '"170"', '"170" is not a number; give 50 to 300 mm'),
        ("170", "true", "true is not a number"),
        ("170", "170\nring_spacing_mm = true", "True is not a number; give a number from 3 to 20, or a list"),
        ("170", "9" * 4000, "a number with too many digits is not a number"),
        ("170", "9" * 5000, "a.toml:1: not valid TOML: a number has too many digits"),
        ("170", "1979-05-27", "a date is not a number"),
        ('"40-622"', '"40-8000"', "is not a tyre marking; write section width and bead seat diameter"),
        ("format = 1", "format = 2", "a.toml:1: format: format 2 was made by a newer program"),
        ("format = 1", 'format = "x"', '"x" is no known format; write format = 1'),
        ("rings = [46, 30]", "", "a.toml:10: crank.rings: the key is missing"),
        ("[crank]", "[crnk]", "a.toml:10: crnk: unknown key; did you mean crank?"),
        ("[crank]", "[pedals]", "a.toml:1: crank: the table is missing; add [crank] with rings"),
        ("size =", "cogs =", "wheel.cogs: this key does not stand here; put it under [rear]"),
        ("size =", "size", "a.toml:8: not valid TOML"),
        ("17, 19, 21,\n]", "17, 19, 21", "not valid TOML: Unclosed array"),
        ("[rear]", "[wheel]", "the table stands there twice"),
        ("[[19, 21]]", "[" * 3000, "brackets stand inside brackets too deep"),
    ],
    ids=lambda text: text[:20],
)
def test_says_what_is_wrong_and_how_to_mend_it(old: str, new: str, words: str) -> None:
    assert any(words in line for line in said(GOOD.replace(old, new)))


def test_bytes_that_are_no_text(tmp_path: Path) -> None:
    path = tmp_path / "a.toml"
    path.write_bytes(b"format = 1\nname = '\xff'\n")
    with pytest.raises(InputError, match=r"a.toml:2: the file is not UTF-8 text: byte 0xff"):
        read_setup(path)
    path.write_bytes(b"\xef\xbb\xbf" + GOOD.replace("\n", "\r\n").encode())
    assert read_setup(path).value == parse(GOOD, Setup)
    path.write_bytes(b" \n")
    with pytest.raises(InputError, match="the file is empty"):
        read_setup(path)


def test_comments_are_seen_but_not_in_text() -> None:
    assert comments_in(GOOD.replace("lines'''", "# lines'''")) == ["# as it came in"]


def test_an_unusual_bead_seat_is_a_caution_not_an_error() -> None:
    assert cautions(parse(GOOD, Setup)) == ()
    assert "621 mm" in str(cautions(parse(GOOD.replace("40-622", "40-621"), Setup))[0])


@pytest.mark.parametrize(
    ("key", "takes"),
    [
        (
            "rear_derailleur.shift_ratio",
            "0.2 to 5, mm of cage per mm of cable; some sheets print the reciprocal",
        ),
        ("shifters.pull_mm", "0.2 to 30 mm, of cable a click, or a list from the smallest sprocket"),
        ("crank.retaining_teeth", "true or false"),
        ("wear.cassette_state", "one of new, good, worn, hooked"),
        ("chain.joint_cogs", "1 to 30 cogs"),
        ("motor.crank_torque_nm", "0 to 500 Nm"),
        ("motor.cutoff_kmh", "3 to 200 km/h"),
        ("frame.tensioner_links", "0 to 20 links"),
        ("rear.spacer_mm", "-30 to 30 mm"),
        ("crank.bottom_bracket_mm", "-30 to 30 mm"),
    ],
)
def test_what_a_key_takes_is_said_where_it_is_typed(key: str, takes: str) -> None:
    assert wanted(Setup, key) == takes


def test_a_number_without_bounds_is_wanted_with_its_unit() -> None:
    class Loose(BaseModel):
        length_mm: float
        many: int

    assert wanted(Loose, "length_mm") == "a number in mm"
    assert wanted(Loose, "many") == "a whole number"
