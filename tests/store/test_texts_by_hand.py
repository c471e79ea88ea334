"""Texts of files edited and judged, worked out by hand: lists, entries of a log, lines, names, problems."""

# ruff: noqa: E501 - texts stand as they do in the file

import datetime
import os
import time
from functools import partial
from pathlib import Path
from typing import Any

import pytest

from cogwright.core.common.errors import InputError
from cogwright.core.parts.bin import Bin
from cogwright.core.setup.edits import SetField
from cogwright.core.setup.model import LogEntry, Setup
from cogwright.store.atomic import TEMPORARY, keep_as, sweep
from cogwright.store.documents import literal, parse, to_toml
from cogwright.store.drafts import Drafts, Pending, _sweep, drop, pending
from cogwright.store.files import (
    SETUP_LIMIT,
    SIZE_LIMIT,
    StoreError,
    opened,
    pieces,
    read_bytes,
    stamp_of,
    why,
)
from cogwright.store.list_text import in_the_order_of, with_elements
from cogwright.store.paths import numbered, relative_to, safe_name, suggested_name
from cogwright.store.problems import dotted, problems_in, shown, wanted
from cogwright.store.saving import lost_by_saving
from cogwright.store.syntax import load
from cogwright.store.toml_edit import edited
from cogwright.store.toml_lines import comments_in, line_index, line_of

SETUP = parse(
    'name = "Yard 7"\n[wheel]\nsize = "40-622"\n[crank]\nrings = [30, 46]\n[rear]\ncogs = [11, 15]\n', Setup
)


@pytest.mark.parametrize(
    ("text", "values", "after"),
    [
        ("[11,13,15]", [11, 12, 13, 15], "[11,12,13,15]"),
        ("[11,  13, 15]", [11, 13, 14, 15], "[11,  13, 14, 15]"),
        ("[11,  13, 15]", [10, 11, 13, 15], "[10,  11,  13, 15]"),
        ("[11, 13]", [11, 13, 15, 17], "[11, 13, 15, 17]"),
        ("[ 11, 13 ]", [13], "[ 13 ]"),
        ("[ 11, 13 ]", [11], "[ 11 ]"),
        ("[ 11, 13, ]", [11], "[ 11, ]"),
        ("[ 11, 13, ]", [], "[ ]"),
        ("[\n 11,\n 13,\n]", [11, 13, 15], "[\n 11,\n 13,\n 15,\n]"),
        ("[\n 11,\n 13\n]", [10, 11, 13], "[\n 10,\n 11,\n 13\n]"),
        ("[\n 11,\n 13\n]", [13], "[\n 13\n]"),
        ("[\n 11,\n 13\n]", [11], "[\n 11\n]"),
        ("[11, 13, # a\n 15]", [11, 15], "[11, # a\n 15]"),
        ("[ # a\n 11, # b\n 13]", [13], "[ # a\n # b\n 13]"),
        ("[11 # a, b\n, 13]", [11, 12, 13], "[11 # a, b\n, 12, 13]"),
        ("[11, 13 # last\n]", [11, 13, 15], "[11, 13, # last\n  15\n]"),
        ("[11, 13, # last\n]", [11, 13, 15], "[11, 13, # last\n  15,\n]"),
        ('["a", "b, c"]', ['"b, c"'], '["b, c"]'),
        ("[[19, 21]]", ["[19, 21]", "[23, 25]"], "[[19, 21], [23, 25]]"),
        ("[[21, 19], [23, 25]]", ["[23, 25]"], "[[23, 25]]"),
        ("[[21, 19]]", ["[19, 21]"], "[[21, 19]]"),
        ("[11.0, 13]", [11, 13], "[11.0, 13]"),
    ],
)  # fmt: skip
def test_lists(text: str, values: list[Any], after: str) -> None:
    assert with_elements(text, list(map(str, values))) == after


@pytest.mark.parametrize(
    ("old", "new", "order"),
    [
        ((11, 13), (15, 13, 11), [11, 13, 15]), ((13, 11), (11, 15, 13), [15, 13, 11]), ((),
        (13, 11), [11, 13]),
        ((11, 17, 13), (11, 13, 15), [11, 15, 13]), ((11, 17, 13), (11, 13), [11, 13]),
        ((11, 17, 13), (11, 17, 13, 20, 19), [11, 17, 13, 19, 20]), ((30,), (31,), [31]),
    ],
)  # fmt: skip
def test_orders_of_teeth(old: tuple[int, ...], new: tuple[int, ...], order: list[int]) -> None:
    assert in_the_order_of(old, new) == order


def log(*days: int) -> tuple[LogEntry, ...]:
    return tuple(LogEntry(date=datetime.date(2026, 5, day), what=f"w{day}") for day in days)


def entry(day: int, more: str = "") -> str:
    return f'[[log]]\ndate = 2026-05-{day:02d}\nwhat = "w{day}"\n{more}'


def with_log(text: str, *days: int) -> str:
    found = edited(text, parse(text, Setup).model_copy(update={"log": log(*days)}))
    assert found.lost == ()
    assert parse(found.text, Setup).log == log(*days)
    return found.text


HEAD = to_toml(SETUP) + "\n"


@pytest.mark.parametrize(
    ("before", "days", "after"),
    [
        ((1, 2), (1, 2, 3), (1, 2, 3)), ((1, 2), (1, 3, 2), (1, 3, 2)), ((1, 2), (3, 1, 2), (3, 1, 2)),
        ((1,), (3, 1), (3, 1)), ((1, 2), (1, 3, 4, 2), (1, 3, 4, 2)), ((1,), (1, 2, 3, 4), (1, 2, 3, 4)),
        ((1, 2, 3), (1, 3), (1, 3)), ((1, 2, 3), (2, 3), (2, 3)), ((1, 2, 3), (1, 2), (1, 2)), ((1, 2),
        (), ()),
        ((1, 2), (1, 4), (1, 4)), ((1, 2, 3), (4, 5, 3), (4, 5, 3)), ((1, 2, 3), (4,), (4,)), ((1,),
        (4, 5, 6), (4, 5, 6)),
    ],
)  # fmt: skip
def test_entries_of_a_log(before: tuple[int, ...], days: tuple[int, ...], after: tuple[int, ...]) -> None:
    """A blank line stands between any two, and nothing else has moved."""
    text = HEAD + "\n".join(map(entry, before))
    expected = HEAD + "\n".join(map(entry, after))
    found = with_log(text, *days)
    assert found.rstrip("\n") == expected.rstrip("\n")
    assert "\n\n\n" not in found


def test_what_follows_a_log_stays_apart_from_it() -> None:
    text = HEAD + entry(1) + "\n[chain]\nlinks = 100\n"
    setup = parse(text, Setup).model_copy(update={"log": log(1, 2)})
    assert edited(text, setup).text == HEAD + entry(1) + "\n" + entry(2) + "\n[chain]\nlinks = 100\n"


def test_comments_of_entries_stay_with_the_one_before_or_where_they_stood() -> None:
    text = HEAD + entry(1, "# a\n") + "\n" + "[[log]]  # b\n" + entry(2)[8:] + "\n" + entry(3, "# c\n")
    assert comments_in(with_log(text, 1, 3)) == ["# a", "# b", "# c"]
    assert comments_in(with_log(text, 2, 3)) == ["# a", "# b", "# c"]
    assert comments_in(with_log(text, 1, 4, 5, 2, 3)) == ["# a", "# b", "# c"], "nor is it written anew"
    last = with_log(text, 1, 2)
    assert last.endswith("# c\n")
    assert comments_in(last) == ["# a", "# b", "# c"]


def test_an_entry_after_a_last_line_without_its_end() -> None:
    text = HEAD + entry(1).rstrip("\n")
    assert with_log(text, 1, 2) == HEAD + entry(1) + "\n" + entry(2)
    said = HEAD + entry(1, "# a")
    assert with_log(said, 1, 2) == HEAD + entry(1, "# a\n") + "\n" + entry(2)


def test_a_changed_key_of_an_entry_stands_where_it_stood() -> None:
    text = HEAD + '[[log]]\nwhat = "w1" # a\ndate = 2026-05-01\n'
    other = log(1)[0].model_copy(update={"km": 9.0, "what": "x"})
    found = edited(text, SETUP.model_copy(update={"log": (other,)}))
    assert found.text == HEAD + '[[log]]\nwhat = "x" # a\ndate = 2026-05-01\nkm = 9\n'


def test_lines_of_keys_tables_and_elements() -> None:
    text = '# top\na = 1\n[b.c]\nd = { e = 2, f = [\n3, # x\n 4] }\n"g.h" = """\n[i]\n"""\n[[l]]\nm = 1\n[[l]]\nm.n = [[5], []]\n[l.o]\np = 6\n'
    index = line_index(text)
    assert index == {
        ("a",): 2, ("b", "c"): 3, ("b", "c", "d"): 4, ("b", "c", "d", "e"): 4, ("b", "c", "d", "f"): 4,
        ("b", "c", "d", "f", 0): 5, ("b", "c", "d", "f", 1): 6, ("b", "c", "g.h"): 7, ("l",): 10, ("l",
         0): 10,
        ("l", 0, "m"): 11, ("l", 1): 12, ("l", 1, "m"): 13, ("l", 1, "m", "n"): 13, ("l", 1, "m", "n", 0): 13,
        ("l", 1, "m", "n", 0, 0): 13, ("l", 1, "m", "n", 1): 13, ("l", 1, "o"): 14, ("l", 1, "o", "p"): 15,
    }  # fmt: skip
    assert line_of(index, ("b", "c", "d", "f", 1, "x")) == 6
    assert line_of(index, ("z",)) == line_of(index, ()) == 1
    assert comments_in("a = '# b' # c \n# d") == ["# c", "# d"]


def test_literals() -> None:
    assert [literal(v) for v in (1.0, 1.5, True, (1, 2.5), ((1, 2),), ("a",), (True,), ())] == [
        "1", "1.5", "true", "[1, 2.5]", "[[1, 2]]", '[\n    "a",\n]', "[\n    true,\n]", "[]",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("text", "line", "what"),
    [
        ('name = "a\n', 1, "close the text"), ("a = 1\nb = \n", 2, '"double quotes"'),
        ("a = 1\na = 2\n", 2, "twice"),
        ("[a]\n[a]\n", 2, "twice"), ("a = [1\n", 1, "close the list"), ("a 1\n", 1, "key = value"),
        ("[a\n", 1, "close the \\[table\\]"),
    ],
)  # fmt: skip
def test_what_is_no_toml_is_said_with_its_line(text: str, line: int, what: str) -> None:
    values, read, problems = load(text)
    assert problems
    assert problems[0].line is not None
    with pytest.raises(InputError, match=what):
        parse(text, Setup)
    assert (values == {}) is (read == "") or read


def test_lines_that_stand_alone_are_left_out_and_the_rest_is_read() -> None:
    values, read, problems = load("a = x\nb = 2\nc = y\n")
    assert values == {"b": 2}
    assert read == "\nb = 2\n\n"
    assert [problem.line for problem in problems] == [1, 3]
    assert load("a = 1\n") == ({"a": 1}, "a = 1\n", [])
    many = load("".join(f"k{at} = x\n" for at in range(30)))
    assert (len(many.problems), many.values) == (20, {})
    deep = load("a\n" + "x." * 70 + "y = 1\n")
    assert [(p.line, p.what) for p in deep.problems] == [(2, "a key has too many parts")]
    assert (deep.values, deep.text) == ({}, "")
    lists = load("a = [x]\nb = 2\nc = [[1], x\nd = 3\n")
    assert lists.values == {}


def told(values: dict[str, Any], model: Any = Setup, lines: dict[Any, int] | None = None) -> list[str]:
    return [f"{p.key}: {p.what}; {p.mend}" for p in problems_in(values, model, lines or {})]


GOOD: dict[str, Any] = {
    "name": "x",
    "wheel": {"size": "40-622"},
    "crank": {"rings": [30]},
    "rear": {"cogs": [11]},
}


@pytest.mark.parametrize(
    ("changed", "says"),
    [
        ({"crank": {"rings": [5]}}, "crank.rings[1]: 5 is too small; give 6 to 130 teeth"),
        ({"crank": {"rings": [131]}}, "crank.rings[1]: 131 is too large; give 6 to 130 teeth"),
        ({"crank": {"rings": []}}, "crank.rings: too few stand in the list; give 1 or more"),
        ({"crank": {"rings": list(range(10, 41))}},
         "crank.rings: too many stand in the list; give 30 at most"),
        ({"crank": {"rings": ["x"]}}, 'crank.rings[1]: "x" is not a whole number; give 6 to 130 teeth'),
        ({"crank": {"rings": 30}},
         "crank.rings: 30 is not a list in [brackets]; give a list in [brackets] of 6 to 130 teeth"),
        ({"crank": {}},
         "crank.rings: the key is missing; add rings = (a list in [brackets] of 6 to 130 teeth) under [crank]"),
        ({"crank": None}, "crank: a date is not a table; give a table"),
        ({"name": None}, ""),
        ({"name": 5}, 'name: 5 is not text in "double quotes"; give text in "double quotes"'),
        ({"name": ""}, "name: the text is empty; write something between the quotes"),
        ({"name": "x" * 201}, "name: the text is too long; use 200 characters at most"),
        ({"format": 2},
         "format: format 2 was made by a newer program than this one; update cogwright, or write the file anew with format = 1"),
        ({"format": 0}, "format: 0 is no known format; write format = 1"),
        ({"format": "1"}, 'format: "1" is no known format; write format = 1'),
        ({"chian": {"links": 110}}, "chian: unknown key; did you mean chain?"),
        ({"links": 110}, "links: this key does not stand here; put it under [chain] or [timing_chain]"),
        ({"crank": {"rings": [30], "name": "x"}},
         "crank.name: this key does not stand here; put it under the top of the file"),
        ({"frame": {"chainstay_mm": 10}}, "frame.chainstay_mm: 10 is too small; give 200 to 1500 mm"),
        ({"rider": {"power_w": 1}}, "rider.power_w: 1 is too small; give 20 to 2000 W"),
        ({"chain": {"links": 401}}, "chain.links: 401 is too large; give 20 to 400 links"),
        ({"rear": {"cogs": [11], "fixed": 1}}, "rear.fixed: 1 is not true or false; give true or false"),
        ({"wear": {"cassette_state": "odd"}},
         "wear.cassette_state: \"odd\" is not known here; give 'new', 'good', 'worn' or 'hooked'"),
        ({"log": [{"date": 5, "what": "x"}]},
         "log[1].date: 5 is not a date such as 2026-05-31; give a date such as 2026-05-31"),
        ({"chain": {"links": 10**19}},
         "chain.links: a number with too many digits is too large; give 20 to 400 links"),
        ({"crank": {"rings": [30, 30]}},
         "crank.rings: 30 teeth stand there more than once; name every sprocket once"),
    ],
)  # fmt: skip
def test_problems_of_single_values(changed: dict[str, Any], says: str) -> None:
    if says:
        assert told(GOOD | changed) == [says]


def test_missing_tables_and_keys() -> None:
    without = {key: part for key, part in GOOD.items() if key != "crank"}
    assert told(without) == ["crank: the table is missing; add [crank] with rings"]
    nameless = {key: part for key, part in GOOD.items() if key != "name"}
    assert told(nameless) == [
        'name: the key is missing; add name = (text in "double quotes") at the top of the file'
    ]


def test_several_problems_come_in_the_order_of_their_lines() -> None:
    bad = GOOD | {"crank": {"rings": [5, 30, 30], "legth_mm": 1}, "chain": {"links": 5}}
    lines = {("chain", "links"): 2, ("crank", "rings", 0): 3, ("crank", "rings"): 3, ("crank", "legth_mm"): 9}
    found = problems_in(bad, Setup, lines)
    assert [p.line for p in found] == [2, 3, 3, 9, 9]
    assert [p.key for p in found] == [
        "chain.links",
        "crank.rings[1]",
        "crank.rings",
        "crank.legth_mm",
        "crank.legth_mm",
    ]
    assert problems_in(bad, Setup, lines, partial=True)
    many = GOOD | {"rear": {"cogs": [11], **{f"zz{at}": 1 for at in range(60)}}}
    told_ = problems_in(many, Setup, {})
    assert len(told_) == 51
    assert str(told_[-1]).endswith("10 more problems; mend these first")


def test_a_newer_format_is_all_that_is_said() -> None:
    assert len(told({"format": 9, "unknown": 1})) == 1


def test_values_as_a_file_has_them() -> None:
    assert [shown(v) for v in (True, "x" * 30, "x" * 31, 10**18, 10**18 + 1, -(10**18) - 1, 1.5, {}, [],
    None)] == [
        "true", f'"{"x" * 30}"', f'"{"x" * 30}~"', str(10**18), "a number with too many digits",
        "a number with too many digits", "1.5", "a table", "a list", "a date",
    ]  # fmt: skip
    assert dotted(("log", 0, "x" * 70)) == "log[1]." + "x" * 60
    assert dotted(()) == ""


def test_what_a_key_takes() -> None:
    takes = {
        "chain.links": "20 to 400 links", "rear.cogs": "a list in [brackets] of 6 to 130 teeth",
        "name": 'text in "double quotes"',
        "rear.fixed": "true or false", "limits.jump_pct": "1 to 100 %", "rider.walk_kmh": "1 to 10 km/h",
        "chain.cogs": "1 to 30 cogs",
        "frame.chainstay_mm": "200 to 1500 mm", "rear.most_torque_nm": "10 to 1000 Nm", "nosuch": "",
        "rear.nosuch": "",
        "wear.cassette_state": "one of new, good, worn, hooked",
    }  # fmt: skip
    assert {key: wanted(Setup, key) for key in takes} == takes
    assert (
        wanted(Setup, "wear.chain_12_links_mm")
        == "303 to 320 mm, over 12 inner and 12 outer links; 304.8 when new"
    )
    assert wanted(Bin, "currency") == 'text in "double quotes"'


def test_file_names() -> None:
    assert [safe_name("a"), safe_name("a.TOML"), safe_name("x" * 200)] == [
        "a.toml",
        "a.toml",
        "x" * 200 + ".toml",
    ]
    for name in ("", " ", ".a", "-a", "a/b", "a:b", "con", "lpt1.x", "a.", "x" * 201, "a\x07", "..toml"):
        with pytest.raises(StoreError, match="will not do as a file name"):
            safe_name(name)
    assert suggested_name("***") == "setup.toml"
    assert suggested_name("A " * 40) == "-".join("a" * 30) + ".toml"
    assert relative_to(Path("/a/b"), Path("/a/c/d.toml")) == "../c/d.toml"


def test_names_that_are_taken_get_a_number(tmp_path: Path) -> None:
    path = tmp_path / "a.toml"
    for name in ("a.toml", "a-2.toml", "a-3.toml"):
        assert numbered(path).name == name
        (tmp_path / name).touch()
    (tmp_path / "b.toml").symlink_to("nowhere")
    assert numbered(tmp_path / "b.toml").name == "b-2.toml"


def test_files_up_to_a_limit(tmp_path: Path) -> None:
    path = tmp_path / "a"
    path.write_bytes(b"x" * 100)
    data, stamp = read_bytes(path, 100)
    assert (len(data), stamp.size) == (100, 100)
    assert stamp == stamp_of(data, os.stat(path))
    with pytest.raises(InputError, match="the file is too large: 0 kB, and 0 kB are the most"):
        read_bytes(path, 99)
    file, _ = opened(path, 100)
    path.write_bytes(b"x" * 101)
    with file, pytest.raises(InputError, match="too large"):
        list(pieces(file, path, 100))
    for kind, make in (
        ("a folder", path.with_name("f").mkdir),
        ("a pipe", lambda: os.mkfifo(tmp_path / "p")),
    ):
        make()
        with pytest.raises(InputError, match=f"this is {kind}, not a file"):
            opened(tmp_path / ("f" if kind == "a folder" else "p"))
    assert why(OSError(2, "x"))[0] == "there is no such file"
    assert why(ValueError("x"))[0] == "the name cannot be used"
    assert why(OSError(9999, "odd")) == ("odd", "")


def test_a_file_is_a_million_bytes_at_most_and_a_setup_a_fifth_of_that(tmp_path: Path) -> None:
    path = tmp_path / "a.toml"
    for size, limit in ((1_000_000, SIZE_LIMIT), (200_000, SETUP_LIMIT)):
        path.write_bytes(b"#" * size)
        assert len(read_bytes(path, limit)[0]) == size
        path.write_bytes(b"#" * (size + 1))
        with pytest.raises(InputError, match="too large"):
            read_bytes(path, limit)


def test_a_text_that_is_the_same_setup_is_left() -> None:
    assert edited(HEAD, SETUP).text == HEAD
    assert edited(HEAD, SetField("chain.links", 100).apply(SETUP)).text == HEAD + "[chain]\nlinks = 100\n"


def test_litter_of_a_killed_save_or_session_goes_after_a_minute(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    now = time.time()
    monkeypatch.setattr(time, "time", lambda: now)
    for age, left in ((59.5, True), (60.5, False)):
        litter = tmp_path / f"{TEMPORARY}{age}.tmp"
        for clear in (partial(sweep, tmp_path), partial(_sweep, tmp_path, [litter.name])):
            litter.touch()
            os.utime(litter, (now - age,) * 2)
            clear()
            assert litter.exists() is left


def test_what_a_save_would_lose_is_said_of_the_version_that_is_there(tmp_path: Path) -> None:
    path = tmp_path / "a.toml"
    path.write_text("# mine\n" + to_toml(SETUP))
    _, stamp = read_bytes(path)
    assert lost_by_saving(path, SETUP, stamp) == ()
    assert lost_by_saving(tmp_path / "none.toml", SETUP, stamp) == ()
    path.write_text("# other\n" + to_toml(SETUP))
    assert lost_by_saving(path, SETUP, stamp) == ()


def test_of_many_problems_the_line_after_which_more_come_is_said() -> None:
    keys = {f"zz{at}": 1 for at in range(60)}
    lines = {("rear", key): 10 + at for at, key in enumerate(keys)}
    found = problems_in(GOOD | {"rear": {"cogs": [11], **keys}}, Setup, lines)
    assert [found[-1].line, found[-2].line, found[0].line] == [59, 59, 10]


def handles() -> int:
    return len(os.listdir("/proc/self/fd"))


@pytest.mark.skipif(not os.path.isdir("/proc/self/fd"), reason="only Linux says which files are open")
def test_drafts_leave_no_file_open_and_no_litter(tmp_path: Path) -> None:
    folder = tmp_path / "drafts"
    before = handles()
    drafts = Drafts(folder)
    drafts.put(None, SETUP)
    assert handles() == before + 1, "the session's lock"
    (folder / next(p.name for p in folder.glob("*.lock"))).unlink()
    drafts.put(None, SETUP)
    assert handles() == before + 1
    assert pending(folder) == Pending(), "this session lives"
    drafts.failing = "the disk was full"
    drafts.retry()
    assert drafts.failing == ""
    assert sorted(p.suffix for p in folder.iterdir()) == [".draft", ".lock"]
    drafts.close()
    assert handles() == before
    assert [p.suffix for p in folder.iterdir()] == [".draft"]
    (folder / "1-abc.lock").touch(0o600)
    assert len(pending(folder).drafts) == 1
    assert handles() == before
    assert not list(folder.glob("*.lock")), "that of a session that is gone"


def test_a_draft_tells_whether_its_file_is_another_now(tmp_path: Path) -> None:
    path = tmp_path / "a.toml"
    path.write_text(to_toml(SETUP))
    stamp = read_bytes(path)[1]
    drafts = Drafts(tmp_path / "drafts")
    other = SetField("chain.links", 100).apply(SETUP)
    drafts.put(path, other, stamp, (SETUP, SETUP))
    drafts.close()
    [draft] = pending(tmp_path / "drafts").drafts
    assert draft.file_has_changed() is False
    assert draft.changes() == ("chain.links: 100, not given before", "2 candidates")
    path.write_text("# x\n" + to_toml(SETUP))
    assert draft.file_has_changed() is True
    path.unlink()
    assert draft.file_has_changed() is True
    assert draft.changes()[0].startswith("the file cannot be read")
    assert drop(draft) is True
    assert pending(tmp_path / "drafts") == Pending()


@pytest.mark.skipif(not os.path.isdir("/proc/self/fd"), reason="only Linux says which files are open")
def test_a_file_that_grows_before_it_is_opened_is_closed_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    small, large = tmp_path / "small", tmp_path / "large"
    small.write_bytes(b"x")
    large.write_bytes(b"x" * 101)
    as_it_was, before = os.stat(small), handles()
    monkeypatch.setattr(os, "stat", lambda *_, **__: as_it_was)
    with pytest.raises(InputError, match="too large"):
        opened(large, 100)
    monkeypatch.undo()
    assert handles() == before


def test_a_version_that_is_kept_twice_leaves_nothing_beside_it(tmp_path: Path) -> None:
    """Where both names are one file already a rename does nothing; the name in between goes all the same."""
    path, kept = tmp_path / "a.toml", tmp_path / "a.toml~"
    path.write_bytes(b"x")
    for _ in range(2):
        assert keep_as(path, kept, b"x", alone=True) == ""
        assert os.path.samefile(path, kept)
        assert sorted(one.name for one in tmp_path.iterdir()) == ["a.toml", "a.toml~"]
    assert keep_as(path, kept, b"x", alone=False) == ""
    assert not os.path.samefile(path, kept)
    assert len(list(tmp_path.iterdir())) == 2
