"""Saves that keep what people wrote: comments, blank lines, order, white space; taken back, every byte."""

import datetime
import subprocess
import sys
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest
from handwritten import File, files
from hypothesis import given, settings
from hypothesis import strategies as st

from cogwright.core.setup.edits import AddSprocket, SetField, SetTeeth
from cogwright.core.setup.model import LogEntry, Section, Setup
from cogwright.store.documents import parse, read_setup
from cogwright.store.list_text import in_the_order_of, with_elements
from cogwright.store.saving import backup_of, lost_by_saving, write_setup
from cogwright.store.toml_edit import edited
from cogwright.store.toml_lines import comments_in
from strategies import setups
from support import ROOT, environment, long_run

TEXT = """\
# Kestrel, as it came in
format = 1
name = "Yard 7 tourer"  # as it came in
notes = '''
two
lines'''

[wheel]
size = "40 - 622"   # off the tyre

# the crank is worn
[crank]
length_mm = 170
rings = [46, 30]      # any order

[rear]
cogs = [
  11, 13, 15, # loose
  17, 19, 21, # riveted
]
carriers = [[19, 21]]

# bought in May
[rear_derailleur]
capacity=39  # maker
# end
"""
SETUP = parse(TEXT, Setup)


def changed(before: Setup, after: Setup) -> set[tuple[str, str]]:
    """Tables and keys whose values differ."""

    def differing() -> Iterator[tuple[str, str]]:
        for name in Setup.model_fields:
            old, new = getattr(before, name), getattr(after, name)
            if isinstance(new, Section):
                keys = type(new).model_fields
                yield from ((name, key) for key in keys if getattr(old, key) != getattr(new, key))
            elif old != new:
                yield "", name

    return set(differing())


def is_in_order(lines: list[str], among: list[str]) -> bool:
    """Whether all lines stand among others in their order."""
    rest = iter(among)
    return all(line in rest for line in lines)


@pytest.mark.long
@given(files(), setups)
@settings(max_examples=long_run(200, 40))
def test_whatever_becomes_of_a_setup_all_else_in_its_file_stays(file: File, other: Setup) -> None:
    assert parse(file.text, Setup) == file.setup
    after = edited(file.text, other)
    assert after.lost == ()
    assert parse(after.text, Setup) == other
    assert not Counter(comments_in(file.text)) - Counter(comments_in(after.text))
    assert is_in_order(file.lines_beside(changed(file.setup, other)), after.text.splitlines())
    if file.windows:
        assert after.text.count("\n") == after.text.count("\r\n")


@pytest.mark.long
@given(files())
@settings(max_examples=long_run(60, 20))
def test_a_setup_that_is_the_same_leaves_every_byte(file: File) -> None:
    assert edited(file.text, file.setup).text == file.text


@pytest.mark.long
@given(files(), setups, setups)
@settings(max_examples=long_run(40, 20))
def test_one_session_after_another_edits_what_the_last_has_left(
    file: File, second: Setup, third: Setup
) -> None:
    once = edited(file.text, second)
    twice = edited(once.text, third)
    assert twice.lost == ()
    assert parse(twice.text, Setup) == third
    assert not Counter(comments_in(file.text)) - Counter(comments_in(twice.text))


@pytest.mark.long
@given(file=files(), others=st.lists(setups, min_size=1, max_size=3))
@settings(max_examples=long_run(40, 20))
def test_what_is_saved_and_taken_back_is_the_file_that_was_there(
    file: File, others: list[Setup], tmp_path_factory: pytest.TempPathFactory
) -> None:
    path = tmp_path_factory.mktemp("shelf") / "a.toml"
    path.write_bytes(file.data)
    document = read_setup(path)
    assert document.value == file.setup
    assert write_setup(path, file.setup, document.stamp).stamp == document.stamp  # nothing to be saved
    assert path.read_bytes() == file.data
    for other in (*others, file.setup):
        assert lost_by_saving(path, other, document.stamp) == ()
        document = write_setup(path, other, document.stamp)
        assert read_setup(path) == document
    assert path.read_bytes() == file.data


def one_line(before: str, after: str) -> tuple[list[str], list[str]]:
    """The lines that differ between two texts: those gone and those new."""
    old, new = before.splitlines(), after.splitlines()
    return [line for line in old if line not in new], [line for line in new if line not in old]


@pytest.mark.parametrize(
    ("key", "value", "gone", "new"),
    [
        ("name", "Other", ['name = "Yard 7 tourer"  # as it came in'], ['name = "Other"  # as it came in']),
        ("crank.length_mm", 172.5, ["length_mm = 170"], ["length_mm = 172.5"]),
        (
            "crank.rings",
            [30, 44, 48],
            ["rings = [46, 30]      # any order"],
            ["rings = [48, 44, 30]      # any order"],
        ),
        ("wheel.rollout_mm", 2190, [], ["rollout_mm = 2190"]),
        ("rear_derailleur.largest_cog", 36, [], ["largest_cog = 36"]),
        ("rear_derailleur.family", "even", [], ['family="even"']),  # as its neighbour is written
        ("rear_derailleur.capacity", None, ["capacity=39  # maker"], ["# maker"]),
        ("crank.length_mm", None, ["length_mm = 170"], []),
        ("chain.links", 112, [], ["[chain]", "links = 112"]),
    ],
)
def test_only_what_differs_is_written(key: str, value: object, gone: list[str], new: list[str]) -> None:
    after = edited(TEXT, SetField(key, value).apply(SETUP))
    assert one_line(TEXT, after.text) == (gone, new)
    assert after.lost == ()


def test_a_list_whose_order_says_something_keeps_the_order_that_was_meant() -> None:
    """Driving before driven: 40 to 36 becomes 36 to 44, in this order, while rings and cogs are a set."""
    text = TEXT + "\n[timing_chain]\nrings = [40, 36] # captain first\n"
    setup = SetField("timing_chain.rings", [36, 44]).apply(parse(text, Setup))
    assert one_line(text, edited(text, setup).text)[1] == ["rings = [36, 44] # captain first"]


def test_a_new_key_stands_where_the_model_has_it() -> None:
    text = edited(TEXT, SetField("wheel.rollout_mm", 2190).apply(SETUP)).text
    assert 'size = "40 - 622"   # off the tyre\nrollout_mm = 2190\n\n# the crank is worn\n[crank]' in text
    text = edited(TEXT, SetField("baseline", "b.toml").apply(SETUP)).text
    assert "lines'''\nbaseline = \"b.toml\"\n\n[wheel]" in text


def test_a_new_table_leaves_the_comment_of_the_next_one_with_it() -> None:
    setup = SetField("frame.chainstay_mm", 440.0).apply(SetField("chain.links", 112).apply(SETUP))
    setup = setup.model_copy(update={"rear_derailleur": type(SETUP.rear_derailleur)(capacity=39)})
    text = edited(TEXT.replace("[rear_derailleur]\ncapacity=39  # maker", "[chain]\nlinks = 110"), setup).text
    assert (
        "carriers = [[19, 21]]\n\n[rear_derailleur]\ncapacity = 39\n\n[frame]\nchainstay_mm = 440\n\n"
        "# bought in May\n[chain]\nlinks = 112\n# end\n" in text
    )


def test_edits_of_a_cassette_keep_to_its_lines() -> None:
    """By hand: 14 goes in between, 19 becomes 20 in its place, 25 comes last."""
    setup = SETUP
    for edit in (SetField("rear.carriers", []), AddSprocket("cog", 14), SetTeeth("cog", 19, 20)):
        setup = edit.apply(setup)
    text = edited(TEXT, AddSprocket("cog", 25).apply(setup)).text
    assert "cogs = [\n  11, 13, 14, 15, # loose\n  17, 20, 21, # riveted\n  25,\n]\ncarriers = []\n" in text


LOG = """
[[log]]
date = 2026-05-01  # a Friday
what = "chain"

# he came back
[[log]]
date = 2026-05-09
what = "cable"
km = 120
"""


def test_entries_of_a_log_that_stay_are_left_as_they_stand() -> None:
    setup = parse(TEXT + LOG, Setup)
    chain, cable = setup.log
    new = LogEntry(date=datetime.date(2026, 6, 2), what="bearings")
    more = setup.model_copy(update={"log": (chain, cable, new)})
    assert edited(TEXT + LOG, more).text == TEXT + LOG + '\n[[log]]\ndate = 2026-06-02\nwhat = "bearings"\n'
    between = setup.model_copy(update={"log": (chain, new, cable)})
    assert parse(edited(TEXT + LOG, between).text, Setup) == between
    other = setup.model_copy(update={"log": (chain, cable.model_copy(update={"km": 130.0}))})
    assert edited(TEXT + LOG, other).text == (TEXT + LOG).replace("km = 120", "km = 130")
    less = edited(TEXT + LOG, setup.model_copy(update={"log": (cable,)}))
    assert less.lost == ()
    assert "# a Friday" in less.text
    one = edited(TEXT + LOG, setup.model_copy(update={"log": (chain,)}))
    assert one.lost == ()
    assert comments_in(one.text) == comments_in(TEXT + LOG)
    first = SETUP.model_copy(update={"log": (new,)})
    assert edited(TEXT, first).text == TEXT + '\n[[log]]\ndate = 2026-06-02\nwhat = "bearings"\n'


LISTS = [
    ("[11, 13,  15 ]", [11, 12, 15], "[11, 12,  15 ]"),
    ("[11, 13, 15]", [11, 15], "[11, 15]"),
    ("[11, 13, 15]", [13, 15], "[13, 15]"),
    ("[ 11 ]", [11, 13], "[ 11, 13 ]"),
    ("[]", [11], "[11]"),
    ("[11, 13]", [], "[]"),
    ("[\n  11,\n  13,\n  15\n]", [11, 13, 14, 15], "[\n  11,\n  13,\n  14,\n  15\n]"),
    ("[\n  11,\n  13,\n  15,\n]", [11, 15], "[\n  11,\n  15,\n]"),
    ("[\n  11, # a\n  13 # b\n]", [13], "[\n  # a\n  13 # b\n]"),
    ("[\n  11, # a\n  13 # b\n]", [11], "[\n  11 # a\n  # b\n]"),
    ("[\n  11, # a\n  13 # b\n]", [11, 13, 15], "[\n  11, # a\n  13, # b\n  15\n]"),
    ("[[19, 21], [23, # c\n 25]]", [[19, 21], [23, 26]], "[[19, 21], [23, # c\n 26]]"),
    ("[ # all\n 11 # a\n , 13 # b\n]", [11, 12, 13], "[ # all\n 11 # a\n , 12, 13 # b\n]"),
]


@pytest.mark.parametrize(("text", "values", "after"), LISTS, ids=[repr(case[0]) for case in LISTS])
def test_lists_by_hand(text: str, values: list[int], after: str) -> None:
    assert with_elements(text, list(map(str, values))) == after


@given(
    st.lists(st.integers(6, 30), max_size=8, unique=True),
    st.lists(st.integers(6, 30), max_size=8, unique=True),
)
def test_teeth_keep_the_order_that_they_stand_in(old: list[int], new: list[int]) -> None:
    found = in_the_order_of(old, new)
    assert sorted(found) == sorted(new)
    if old == sorted(old):
        assert found == sorted(new)
    elif old == sorted(old, reverse=True):
        assert found == sorted(new, reverse=True)
    elif set(old) >= set(new):
        assert found == [n for n in old if n in new]


def test_a_text_that_cannot_be_edited_says_which_comments_go(tmp_path: Path) -> None:
    """One that is no setup: it is written anew, and that is known before it is done."""
    path = tmp_path / "a.toml"
    path.write_text("# mine\n[wheel\n")
    write_setup(tmp_path / "b.toml", SETUP)
    stamp = read_setup(tmp_path / "b.toml").stamp
    assert lost_by_saving(tmp_path / "b.toml", SETUP, stamp) == ()
    found = edited(path.read_text(), SETUP)
    assert found.lost == ("# mine",)
    assert parse(found.text, Setup) == SETUP


def test_a_text_of_more_lines_than_anybody_writes_is_written_anew_and_that_is_said() -> None:
    other = SetField("chain.links", 112).apply(SETUP)
    most = TEXT + "#\n" * (2000 - TEXT.count("\n"))
    assert edited(most, other).lost == ()
    found = edited(most + "# one more\n", other)
    assert "# one more" in found.lost
    assert found.lost[-1] == "(and the order of its keys, its blank lines and its spacing)"
    assert edited(found.text + "\n" * 3000, SETUP).lost == (found.lost[-1],)
    assert edited(found.text, SETUP).lost == ()


def test_a_copy_keeps_the_comments_of_what_it_is_like(tmp_path: Path) -> None:
    path = tmp_path / "a.toml"
    path.write_text(TEXT)
    copy = SetField("name", "Yard 8").apply(SETUP)
    write_setup(tmp_path / "b.toml", copy, like=path)
    assert (tmp_path / "b.toml").read_text() == TEXT.replace("Yard 7 tourer", "Yard 8")
    write_setup(tmp_path / "c.toml", copy, like=tmp_path / "nosuch.toml")
    assert read_setup(tmp_path / "c.toml").value == copy


def test_the_version_before_is_kept_with_its_comments(tmp_path: Path) -> None:
    path = tmp_path / "a.toml"
    path.write_text(TEXT)
    (tmp_path / "a.toml.orig").write_text("# of another program")
    write_setup(path, SetField("name", "Other").apply(SETUP), read_setup(path).stamp)
    assert backup_of(path).read_text() == TEXT
    assert (tmp_path / "a.toml.orig-2").read_text() == TEXT, "as it came in"
    there = {each.name for each in tmp_path.iterdir()}
    assert there == {"a.toml", "a.toml.orig", "a.toml.orig-2", "a.toml~"}


def test_the_demo_files_keep_every_line_but_one() -> None:
    for path in sorted((ROOT / "setups").glob("*.toml")):
        text, setup = path.read_text(), read_setup(path).value
        after = edited(text, setup.model_copy(update={"name": "Another name"}))
        gone, new = one_line(text, after.text)
        assert len(gone) == len(new) == 1, path.name
        assert after.lost == ()


@pytest.mark.long(cases=0)
def test_reading_never_loads_the_library_that_edits() -> None:
    code = (
        "import sys; from cogwright.store.shelf import read_shelf; from pathlib import Path; "
        "import cogwright.store.saving; assert all(e.setup for e in read_shelf(Path('setups'))); "
        "print([m for m in sys.modules if m.startswith('tomlkit')])"
    )
    argv = [sys.executable, "-c", code]
    done = subprocess.run(
        argv, cwd=ROOT, capture_output=True, text=True, check=True, env=environment(), timeout=60
    )
    assert done.stdout.strip() == "[]"
