"""Text and bytes that mean harm: they never crash, never act, and never reach the terminal as they are.

Run in full, the tests of this file put some 20,000 cases through the readers: TOML values of every type in
every place of a setup, texts of broken TOML, and raw bytes. All they may give is a setup or an InputError.
"""

import datetime
import os
import random
import time
import unicodedata
from copy import deepcopy
from pathlib import Path

import pytest
import tomli_w
from hypothesis import given, settings
from hypothesis import strategies as st
from rich.cells import cell_len, get_character_cell_size

from cogwright.core.common.errors import InputError, Problem
from cogwright.core.common.safe_text import cells, char_cells, clean, csv_cell, cut, pad, shown_name
from cogwright.core.setup.differences import differences
from cogwright.core.setup.model import Setup
from cogwright.store.documents import parse, read_setup, to_toml
from cogwright.store.files import SETUP_LIMIT, StoreError
from cogwright.store.paths import safe_name
from cogwright.store.shelf import read_shelf
from cogwright.store.toml_lines import comments_in, line_index
from strategies import NASTY, any_text, hostile_text, setups
from support import long_run


def is_harmless(text: str, newlines: bool = False) -> bool:
    """Nothing that a terminal obeys: no control, no format character, no surrogate, few stacked marks."""
    kept = text.replace("\n", "") if newlines else text
    return not any(unicodedata.category(char) in {"Cc", "Cf", "Cs", "Zl", "Zp"} for char in kept)


def outcome(text: str) -> Setup | None:
    """The setup of a text, or None after checking that its problems can be shown."""
    try:
        return parse(text, Setup, "a.toml")
    except InputError as error:
        check_problems(error, text.count("\n") + 1)
        return None


def check_problems(error: InputError, lines: int) -> None:
    assert error.problems
    for problem in error.problems:
        assert is_harmless(str(problem))
        assert problem.what
        assert problem.line is None or 1 <= problem.line <= lines


@given(setups)
@pytest.mark.long
@settings(max_examples=long_run(200, 10))
def test_what_is_written_is_what_is_read(setup: Setup) -> None:
    text = to_toml(setup)
    again = parse(text, Setup)
    assert again == setup
    assert to_toml(again) == text
    assert differences(setup, again) == ()
    assert text.startswith("format = 1\n")
    assert comments_in(text) == []


VALUES = st.recursive(
    st.none()
    | st.booleans()
    | st.integers()
    | st.integers(-200, 200)
    | st.floats()
    | any_text
    | st.just(datetime.date(2024, 2, 29))
    | st.just(datetime.time(1, 2)),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(any_text, inner, max_size=3),
    max_leaves=5,
).filter(lambda value: value is not None)


#: Good data to spoil, every table of the file in one of them. Drawing any setup would cost most of the time.
GOOD = (
    {"name": "Yard 1", "wheel": {"size": "40-622"}, "crank": {"rings": [36]}, "rear": {"cogs": [11, 13]}},
    {
        "format": 1,
        "name": "Yard 2",
        "notes": "As it came in.",
        "baseline": "yard-1.toml",
        "wheel": {"size": "40-622", "rollout_mm": 2205.5},
        "crank": {"rings": [30, 46], "length_mm": 170, "bolt_circle_mm": 110, "bolts": 5},
        "rear": {"cogs": [11, 13, 15, 17], "carriers": [[15, 17]], "hub_ratios": [1.0], "clicks": 4},
        "rear_derailleur": {"largest_cog": 34, "smallest_cog": 11, "capacity": 35, "family": "ten"},
        "front_derailleur": {"largest_ring": 48, "difference": 16},
        "shifters": {"family": "ten"},
        "frame": {"chainstay_mm": 440, "suspension_growth_mm": 0},
        "chain": {"links": 110, "outer_width_mm": 6.0},
        "rider": {"mass_kg": 70, "cadence_rpm": [60, 85, 105]},
        "limits": {"jump_pct": 15, "rollout_m": 7.0},
    },
)


@st.composite
def spoilt(draw: st.DrawFn) -> dict[str, object]:
    """A setup's data with some values of any type put into its places."""
    data = deepcopy(draw(st.sampled_from(GOOD)))
    for _ in range(draw(st.integers(1, 3))):
        table = draw(st.sampled_from([data, *(part for part in data.values() if isinstance(part, dict))]))
        key = (
            draw(st.sampled_from([*table]) if table else any_text) if draw(st.booleans()) else draw(any_text)
        )
        table[key] = draw(VALUES)
    return data


def without_none(value: object) -> object:
    """TOML has no null, and tomli-w writes no surrogates."""
    if isinstance(value, dict):
        return {without_none(k): without_none(v) for k, v in value.items() if v is not None}
    if isinstance(value, list):
        return [without_none(one) for one in value if one is not None]
    return value.encode("utf-8", "ignore").decode() if isinstance(value, str) else value


@given(spoilt())
@pytest.mark.long
@settings(max_examples=long_run(600, 30))
def test_any_value_in_any_place(data: dict[str, object]) -> None:
    text = tomli_w.dumps(without_none(data))  # type: ignore[arg-type]
    setup = outcome(text)
    if setup is not None:
        assert parse(to_toml(setup), Setup) == setup
    assert all(1 <= line <= text.count("\n") + 1 for line in line_index(text).values())


@given(
    st.text(max_size=60)
    | st.lists(st.sampled_from([*NASTY, "[", "]", "=", "\n", "a", '"', "{", "."])).map("".join)
)
@pytest.mark.long
@settings(max_examples=long_run(1000, 50))
def test_any_text(text: str) -> None:
    outcome(text)


SEED_TEXT = b"""format = 1
name = "Yard 1" # in the stand
[wheel]
size = "40-622"
[crank]
rings = [30, 46]
length_mm = 170.5
[rear]
cogs = [11, 13, 15]
carriers = [[13, 15]]
[rider]
cadence_rpm = [60, 85, 105]
"""


def broken(rng: random.Random) -> bytes:
    """A good file after a few accidents: bytes lost, doubled, swapped or made up."""
    data = bytearray(SEED_TEXT)
    for _ in range(rng.randint(1, 6)):
        at, size = rng.randrange(len(data) + 1), rng.randint(0, 12)
        piece = rng.choice(
            [b"", rng.randbytes(size), bytes(data[at : at + size]) * 2, rng.choice(NASTY).encode()]
        )
        data[at : at + rng.randint(0, size)] = piece
    return bytes(data)


@pytest.mark.long(cases=2)
@pytest.mark.parametrize("seed", range(4))
def test_raw_bytes_and_broken_files(seed: int, tmp_path: Path) -> None:
    rng = random.Random(seed)
    path = tmp_path / "a.toml"
    read, cases = 0, long_run(4600, 20)
    for case in range(cases):
        data = broken(rng) if case % 9 else rng.randbytes(rng.randint(0, 200))
        path.unlink(missing_ok=True)  # some file systems flush a file that is written over
        path.write_bytes(data)
        try:
            read += is_harmless(read_setup(path).value.name)
        except InputError as error:
            check_problems(error, data.count(b"\n") + 1)
    assert cases / 100 < read < cases * 2 / 3  # accidents both spoil files and leave them whole


#: Files as large as a setup may be, each the worst of its kind for some step of reading.
HEAVY = {
    "unknown keys": "".join(f"key{n} = {n}\n" for n in range(12_000)),
    "wrong teeth": "[rear]\ncogs = [" + "1," * 90_000 + "]",
    "broken lines": "".join(f"key{n} = \n" for n in range(12_000)),
    "tables": "".join(f"[t{n}]\n" for n in range(15_000)),
    "one dotted key": "a" + ".a" * 90_000 + " = 1",
    "quotes": 'name = """' + '\\"' * 90_000 + '"""',
    "brackets": "a = [" + "[]," * 60_000 + "]",
    "marks": "notes = '''" + "e\u0301\u0302" * 39_000 + "'''",
    "depth": "a = " + "[" * 100_000,
}


@pytest.mark.long(cases=1)
@pytest.mark.parametrize("kind", HEAVY)
def test_no_file_takes_long_to_refuse(kind: str) -> None:
    text = HEAVY[kind]
    assert len(text.encode()) <= SETUP_LIMIT
    begun = time.process_time()
    with pytest.raises(InputError) as caught:
        parse(text, Setup)
    assert len(caught.value.problems) <= 80
    assert time.process_time() - begun < 20  # one that grows with the square takes minutes


@given(hostile_text | st.text())
@pytest.mark.long
@settings(max_examples=long_run(500, 25))
def test_cleaned_text_is_harmless_stays_so_and_is_as_wide_as_the_screen_thinks(text: str) -> None:
    once = clean(text)
    assert is_harmless(once)
    assert clean(once) == once
    assert cells(once) == cell_len(once)
    assert clean(clean(text, True), True) == clean(text, True)
    for width in (1, 5, 12):
        assert cells(cut(once, width)) <= width
        assert cells(pad(once, width)) == width


@pytest.mark.long(cases=0)
def test_every_single_character_has_the_width_that_the_screen_gives_it() -> None:
    for code in (*range(0x3400), *range(0xA000, 0xAC10), *range(0xD7A0, 0x17000), *range(0x1B000, 0x20010)):
        char = chr(code)
        if clean(char) == char:
            assert char_cells(char) == get_character_cell_size(char), hex(code)


@given(st.binary(min_size=1, max_size=40))
@pytest.mark.long
@settings(max_examples=long_run(300, 15))
def test_file_names_of_any_bytes_can_be_shown(raw: bytes) -> None:
    name = os.fsdecode(raw)
    shown = shown_name(name)
    assert is_harmless(shown)
    assert shown_name(shown) == shown
    shown.encode()  # no surrogate is left that printing would stumble over
    assert is_harmless(str(Problem(name, name, name, name)))


@pytest.mark.parametrize("raw", [b"\x1b[2Jx.toml", b"\xff\xfe.toml", "\u202egnp.toml".encode(), b"a\nb.toml"])
def test_the_shelf_shows_names_of_any_bytes(raw: bytes, tmp_path: Path) -> None:
    Path(os.fsdecode(os.path.join(os.fsencode(tmp_path), raw))).write_text("format = 7")
    (entry,) = read_shelf(tmp_path)
    assert is_harmless(entry.name)
    assert "newer program" in str(entry.problems[0])
    assert is_harmless(str(entry.problems[0]))


def named(text: str) -> str | None:
    """The safe name, or None after checking that the refusal can be shown."""
    try:
        return safe_name(text)
    except StoreError as error:
        check = str(error)
    assert is_harmless(check)
    return None


@given(hostile_text | st.text())
@pytest.mark.long
@settings(max_examples=long_run(300, 15))
def test_a_typed_name_stays_in_its_folder_or_is_refused(text: str) -> None:
    name = named(text)
    if name is not None:
        assert os.path.basename(name) == name
        assert name.endswith(".toml")
        assert not name.startswith((".", "-"))
        assert is_harmless(name)
        assert len(os.fsencode(name)) < 230


@pytest.mark.parametrize(
    "name",
    ["", "  ", ".", "..", "a/b", "../a", "/etc/passwd", ".hidden", "-rf", "a\x00b", "a\x1b[2J", "x" * 300,
     "con", "nul.toml", "a:b", "a\\b", "\u202ea", "\udcff", "a.", ".toml"],
)  # fmt: skip
def test_names_that_are_refused(name: str) -> None:
    with pytest.raises(StoreError, match="will not do as a file name"):
        safe_name(name)


#: What a spreadsheet takes for a formula or a command, as OWASP lists it ("CSV Injection"), and two more.
@pytest.mark.parametrize(
    "text",
    ["=1+1", "+1+1", "-1+1", "@SUM(A1)", "\t=1", "\r=1", " =1", "\uff1d1", "x;=1", "=cmd|' /C calc'!A0"],
)
def test_cells_that_a_spreadsheet_would_run_are_defused(text: str) -> None:
    for cell in csv_cell(text).split(";"):
        assert cell.strip()[:1] not in {*"=+-@", "\uff1d", "\uff0b", "\uff0d", "\uff20"}


@pytest.mark.parametrize("text", ["0", "46x11", "Yard 1", "11-34, 11 cogs", "a - b"])
def test_plain_words_stay_as_they_are(text: str) -> None:
    assert csv_cell(text) == text
