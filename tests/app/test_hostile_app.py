"""Text and file names that mean harm, in every view and drawer: nothing crashes, acts or gets through."""

import os
import re
import unicodedata
from pathlib import Path
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from markdown_it import MarkdownIt
from rich.cells import cell_len
from screens import rows, type_keys
from textual import events

from cogwright.app.actions import ACTIONS
from cogwright.app.controllers.export import view_text
from cogwright.app.main import BenchApp
from cogwright.core.common.safe_text import clean
from cogwright.present.report.markdown import md
from cogwright.store.documents import read_setup, to_toml
from cogwright.store.drafts import Drafts
from forking import run_bench
from ptyterm import Term
from strategies import hostile_text
from support import ROOT, long_cases, long_run, long_spread, make

MARK = "PWNED"
EVIL = (
    f"\x1b]0;{MARK}\x07\x1b[3J\x9b5m\u202e[@click=app.quit]{MARK}[/b] \u6f22e\u0301\u0302\u0303\u0304\u0305"
    "\u200d\ufe0f\U0001f6b2<b>|`[x](y)"
)
#: As a TOML string.
TEXT = '"' + "".join(f"\\U{ord(char):08x}" for char in EVIL) + '"'
NAMES = (
    b"\x1b[3J\xc2\x9b\xff.toml",
    "\u202egnp.toml".encode(),
    b"[@click=app.quit]x.toml",
    "\u6f22\u5b57e\u0301\u0302\u0303\u0304\u0305.toml".encode(),
    b"a\nb\tc.toml",
)
#: What a terminal would obey, as bytes of the output.
ACTING = [f"\x1b]0;{MARK}".encode(), b"\x1b[3J", "\x9b".encode(), "\u202e".encode(), b"\xff"]
SETUP = make([30, 46], [11, 13, 15, 17, 19, 21, 24], chain={"links": 110})
BIN = f"""format = 1
name = {TEXT}
notes = {TEXT}
[[cassettes]]
name = {TEXT}
cogs = [11, 13, 15, 17, 19, 21, 28]
family = {TEXT}
price = 3.0
"""
COURSE = f"""format = 1
name = {TEXT}
[[pieces]]
name = {TEXT}
length_m = 2000
grade_pct = 9
"""


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Setups, a bin, a course and a draft with hostile texts, most under hostile names."""
    for name in ("XDG_STATE_HOME", "XDG_CONFIG_HOME"):
        monkeypatch.setenv(name, str(tmp_path / "state"))
    monkeypatch.setenv("LANG", "C.UTF-8")
    shelf = tmp_path / f"shelf {EVIL.replace('/', '')}"
    for name in ("bins", "courses"):
        (shelf / name).mkdir(parents=True)
    named = to_toml(SETUP).replace('"Test bike"', TEXT)
    setup = f"notes = {TEXT}\n{named}\n[shifters]\nfamily = {TEXT}\n"
    for name in (b"0.toml", *NAMES):
        at(shelf, name).write_text(setup)
    at(shelf, b"\x1b[3J\xff bad.toml").write_text(f"{TEXT} = {TEXT}\nformat = {TEXT}\n[{TEXT}]\n")
    for name in (b"a.toml", NAMES[0]):
        at(shelf / "bins", name).write_text(BIN)
        at(shelf / "courses", name).write_text(COURSE)
    return shelf


def at(folder: Path, name: bytes) -> Path:
    return folder / os.fsdecode(name)


def check(app: BenchApp) -> str:
    """What is on the screen, found harmless and exactly as wide as the screen."""
    shown = rows(app)
    assert {cell_len(row) for row in shown} == {app.size.width}
    return harmless("\n".join(shown))


def harmless(text: str) -> str:
    assert [c for c in text if unicodedata.category(c) in {"Cc", "Cf", "Cs", "Zl", "Zp"} and c != "\n"] == []
    return text


#: Every action but those that leave, save or write files, which have tests of their own.
LOOKS = [a.keys[0] for a in ACTIONS if a.id not in {"quit", "save", "export", "repaint", "theme"}]


@pytest.mark.long
@pytest.mark.parametrize("size", long_cases([(80, 24), (37, 11), (130, 40)], 1))
async def test_every_view_and_drawer_shows_it_harmless_and_in_its_width(
    size: tuple[int, int], folder: Path
) -> None:
    app = BenchApp(
        [folder],
    )
    seen = ""
    async with app.run_test(size=size) as pilot:
        await pilot.press("g", "enter", "B", "enter", "i", "enter")
        for view in "123456":
            type_keys(app, view)
            for key in long_spread(LOOKS, 9) if view == "1" else ():
                type_keys(app, key, "down")
                await pilot.pause()
                seen += check(app)
                type_keys(app, "f10", view)
            await pilot.pause()
            seen += check(app)
        assert app.is_running
    assert seen.count(MARK) > 20
    assert app.return_value is None


@pytest.mark.long(cases=0)
async def test_files_of_any_name_are_opened_changed_saved_deleted_and_brought_back(folder: Path) -> None:
    for name in long_cases(NAMES, 1):
        path = at(folder, name)
        app = BenchApp([path])
        async with app.run_test(size=(80, 24)) as pilot:
            await pilot.press("up", "s")
            assert "is the bike as it came in" in check(app)
            await pilot.press("w")
            assert "Saved" in check(app)
            await pilot.press("up")
            path.write_text(to_toml(SETUP))
            await pilot.press("s")
            assert "has changed" in check(app)
            await pilot.press("w", "D")
            check(app)
            await pilot.press("f8")
            assert "Deleted" in check(app)
            await pilot.press("u")
            assert "is back" in check(app)
            path.unlink()
            await pilot.press("s")
            assert "The file is gone" in check(app)
            await pilot.press("q")
        assert not path.exists()


@pytest.mark.long(cases=0)
async def test_a_draft_is_offered_harmless(folder: Path) -> None:
    gone = Drafts(folder.parent / "state" / "cogwright" / "drafts")
    setup = read_setup(folder / "0.toml").value
    gone.put(at(folder, NAMES[0]), SETUP, None)
    gone.put(None, setup, None)
    gone.close()
    app = BenchApp([folder])
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        assert MARK in check(app)
        await pilot.press("d")
        assert "name: Test bike, was" in check(app)
        await pilot.press("t")
        assert "Taken back" in check(app)


async def test_what_is_taken_along_is_harmless_too(
    folder: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.chdir(tmp_path)
    app = BenchApp([folder / "0.toml"])
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("6", "e", "enter")
        assert "Written to" in check(app)
        assert MARK in harmless(view_text(app.store.session))
        await pilot.press("e", "down", "down", "enter")
        await pilot.pause()
        assert "Written to" in check(app)
    svg = next(tmp_path.glob("*.svg")).read_text()
    assert MARK in "".join(ElementTree.fromstring(svg).itertext())
    assert harmless(svg)
    assert not re.search(r"<script|javascript:|onload|url\(|@import|href=", svg)
    assert sorted(path.suffix for path in tmp_path.iterdir() if path.is_file()) == [".svg", ".txt"]
    text = next(tmp_path.glob("*.txt")).read_text()
    assert MARK in harmless(text)


async def test_a_file_that_cannot_be_written_along_leaves_nothing_behind(
    folder: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    (tmp_path / "here").mkdir()
    monkeypatch.chdir(tmp_path / "here")
    (tmp_path / "here").rmdir()
    app = BenchApp([folder / "0.toml"])
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("e", "enter")
        assert "Not written: " in check(app)


@pytest.mark.long(cases=0)
async def test_what_is_pasted_into_a_line_is_cleaned(folder: Path) -> None:
    app = BenchApp([folder / "0.toml"])
    async with app.run_test(size=(80, 24)) as pilot:
        for key in "NS":
            await pilot.press(key, "ctrl+u")
            app.post_message(events.Paste(EVIL))
            await pilot.pause()
            assert MARK in check(app)
            await pilot.press("enter")
            check(app)
            await pilot.press("f10")
        assert app.store.session.bench.name == clean(EVIL).strip()


#: Keys that show what there is by its names.
SHOWN_BY = (*"23456oobcfSNnDR?:1", "o\x1b[B\r", "o\x1b[F\r", "D")


@pytest.mark.long(cases=0)
def test_no_byte_that_acts_reaches_a_terminal(folder: Path) -> None:
    env = {"PYTHONPATH": str(ROOT / "src"), "XDG_STATE_HOME": str(folder.parent / "state")}
    with Term(["cogwright", str(folder)], env=env, forks=run_bench) as term:
        term.wait_for("quit")
        for key in ("g\r", "B\r", "i\r", *long_spread(SHOWN_BY, 8)):
            term.press(key, quiet=0.03, limit=0.3)
            term.press("\x1b[21~", quiet=0.03, limit=0.3)
        term.key("1")
        term.key("\x1b[A" * 3 + "sw")
        term.wait_for("Saved")
        assert term.process.poll() is None
        assert MARK in term.output.decode(errors="replace")
        assert [acting for acting in ACTING if acting in term.output] == []
        assert set(re.findall(rb"\x1b\]\d+", term.output)) <= {b"\x1b]22"}  # the library's mouse pointer


MARKDOWN = MarkdownIt("commonmark").enable("table").enable("strikethrough")


def shown(source: str) -> list[str]:
    """What a Markdown reader makes of it: the kinds of its blocks and inline parts, and all its text."""
    tokens = MARKDOWN.parse(source)
    parts = [part for token in tokens for part in token.children or ()]
    text = "".join(part.content for part in parts)
    return [*(token.type for token in tokens), *sorted({part.type for part in parts}), " ".join(text.split())]


@pytest.mark.long
@given(hostile_text | st.text(alphabet="-+>=1.)#*_`[]()<>!&|~\\: w/@htps\t", max_size=12))
@settings(max_examples=long_run(300, 100))
def test_markdown_shows_any_text_as_it_stands(text: str) -> None:
    plain = " ".join(clean(text).split())
    for before, after in (("- ", ""), ("# ", ""), ("", ""), ("| ", " |\n| --- |\n")):
        escaped = shown(f"{before}{md(text) or 'x'}{after}")
        assert escaped == [*shown(f"{before}x{after}")[:-1], plain or "x"], before
    assert not re.search(r"(?i)www\.|://|(?<!\\)@", md(text))
