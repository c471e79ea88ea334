"""What a terminal sends, cut anywhere and late: what of it is typed, what is pasted, and what is neither."""

from itertools import pairwise

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from cogwright.app.actions import ACTIONS
from cogwright.app.terminal.incoming import (
    ESCAPE,
    KEPT,
    LATE_S,
    SILENCE_S,
    UNFINISHED_S,
    CursorAt,
    Incoming,
    Keyed,
    Pasted,
    Unit,
)
from cogwright.app.terminal.paste import END, LIMIT, START

ESCAPE_S = 0.1
#: Answers that no key ever looks like: colours, device attributes, status, modes, versions, sizes, graphics.
ANSWERS = [
    b"\x1b]11;rgb:0000/2b2b/3636\x1b\\",
    b"\x1b]10;rgb:ffff/ffff/ffff\x07",
    b"\x1b]4;1;rgb:ff/00/00\x07",
    b"\x1b]52;c;ZGVsZXRl\x07",
    b"\x1b[?62;22c",
    b"\x1b[>41;354;0c",
    b"\x1b[=1c",
    b"\x1bP!|00000000\x1b\\",
    b"\x1bP>|term 1.2\x1b\\",
    b"\x1bP1$r0m\x1b\\",
    b"\x1b[0n",
    b"\x1b[?10n",
    b"\x1b[?1;2R",
    b"\x1b[?2048;2$y",
    b"\x1b[?25u",
    b"\x1b[4;768;1024t",
    b"\x1b[48;24;80;768;1024t",
    b"\x1b_Gi=1;OK\x1b\\",
    b"\x1b]lTitle\x1b\\",
]


def fed(*parts: bytes | float) -> list[Unit]:
    """What bytes make; a number is a pause in s."""
    incoming, now, units = Incoming(lambda: ESCAPE_S), 100.0, []
    for part in parts:
        if isinstance(part, float):
            now += part
            units += incoming.timed_out(now)
        else:
            units += incoming.feed(part, now)
    return units


def joined(units: list[Unit]) -> list[Unit]:
    """With characters that came in several pieces as one."""
    out: list[Unit] = []
    for unit in units:
        plain = isinstance(unit, Keyed) and not unit.text.startswith("\x1b")
        if plain and out and isinstance(out[-1], Keyed) and not out[-1].text.startswith("\x1b"):
            out[-1] = Keyed(out[-1].text + unit.text)
        else:
            out.append(unit)
    return out


def typed(units: list[Unit]) -> str:
    return "".join(unit.text for unit in units if isinstance(unit, Keyed))


def test_keys_come_as_they_are_typed() -> None:
    assert fed(b"ab\x1b[A\x1bOP\x1b[1;5D\x1b[[Aq") == [
        *map(Keyed, ["ab", "\x1b[A", "\x1bOP", "\x1b[1;5D", "\x1b[[A", "q"]),
    ]


def test_escape_waits_for_what_would_make_a_sequence_of_it() -> None:
    assert fed(b"\x1b") == []
    assert fed(b"\x1b", ESCAPE_S / 2, b"[A") == [Keyed("\x1b[A")]
    assert fed(b"\x1b", ESCAPE_S * 1.1) == [ESCAPE]
    assert fed(b"\x1b\x1b[A", ESCAPE_S * 1.1) == [ESCAPE, Keyed("\x1b[A")]


#: Characters of the actions' keys, and Enter.
KEYS = sorted(
    {key for action in ACTIONS for key in action.keys if len(key) == 1} | {"\r", "?", ":", ".", "<", ">"}
)


@pytest.mark.long(cases=14)
@pytest.mark.parametrize("key", KEYS)
def test_escape_and_a_key_in_one_packet_are_two_keys(key: str) -> None:
    assert fed(b"\x1b" + key.encode(), ESCAPE_S, b"A") == [ESCAPE, Keyed(key), Keyed("A")]


SCRAPS = st.sampled_from(
    [
        b"\x1b",
        b"\x1b[",
        b"\x1b]",
        b"\x1bO",
        b"\x1bP",
        b"\x1b[<",
        b"\x1b[M",
        START,
        END,
        b"\x1b[?",
        b"1",
        b";",
        b":",
        b"48",
        b"u",
        b"~",
        b"R",
        b"A",
        b"m",
        b"M",
        b"t",
        b"$y",
        b"\x07",
        b"\\",
        b"\xe9",
        b"\x9b",
        b"q",
        b"\xc3\xa9",
    ]
)
SOUP = st.lists(st.one_of(SCRAPS, st.binary(max_size=8)), max_size=40).map(b"".join)


@given(data=SOUP, cuts=st.lists(st.integers(0, 200), max_size=6))
@example(data=b"\x1b[200~a\x1b[201~", cuts=[3, 12])
def test_it_does_not_matter_where_reads_cut(data: bytes, cuts: list[int]) -> None:
    places = sorted({0, len(data), *(cut for cut in cuts if cut < len(data))})
    assert joined(fed(*(data[a:b] for a, b in pairwise(places)))) == joined(fed(data))


@given(data=SOUP)
def test_nothing_that_is_handed_on_is_longer_than_a_key(data: bytes) -> None:
    """The parser gives longer sequences out as keys."""
    for unit in fed(data):
        if isinstance(unit, Keyed) and unit.text.startswith("\x1b"):
            assert len(unit.text) <= 32


# Pastes


@given(inside=SOUP.filter(lambda data: END not in data), cuts=st.lists(st.integers(0, 200), max_size=6))
@example(inside=b"note \x1b[31mDy", cuts=[])
@example(inside=b"\x1b[200~\x1b[200~D", cuts=[9])
@example(inside=b"\x1b]0;title\x1b[20", cuts=[])
def test_nothing_in_a_paste_is_ever_typed(inside: bytes, cuts: list[int]) -> None:
    data = START + inside + END
    places = sorted({0, len(data), *(cut for cut in cuts if cut < len(data))})
    units = fed(*(data[a:b] for a, b in pairwise(places)), b"q")
    # What ends with the beginning of an end mark is the longest that can be taken for one.
    assert units[-1] == Keyed("q")
    assert all(isinstance(unit, Pasted) and unit.ended and not unit.cut for unit in units[:-1])
    assert len(units) <= 2
    for unit in units[:-1]:
        assert isinstance(unit, Pasted)
        assert not [char for char in unit.text if (char < " " and char != "\n") or "\x7f" <= char < "\xa0"]


def test_a_paste_is_text_without_its_escapes() -> None:
    assert fed(START + "größer \x1b[1;31mred\x1b[m\r\none\ttwo\rthree\x1b]0;t\x07.".encode() + END) == [
        Pasted("größer red\none two\nthree.")
    ]


def test_a_paste_is_cut_at_the_limit() -> None:
    inside = "é".encode() * LIMIT
    (unit,) = fed(START, *(inside[at : at + 4095] for at in range(0, len(inside), 4095)), END)
    assert isinstance(unit, Pasted)
    assert unit == Pasted("é" * (LIMIT // 2), cut=True)
    assert fed(START + b"x" * LIMIT + END) == [Pasted("x" * LIMIT)]
    assert fed(START + b"x" * (LIMIT + 1) + END) == [Pasted("x" * LIMIT, cut=True)]


def test_a_paste_without_an_end_ends_by_silence_and_then_keys_count_again() -> None:
    assert fed(START + b"abc", SILENCE_S - 0.1) == []
    assert fed(START + b"abc", SILENCE_S - 0.1, b"d", SILENCE_S - 0.1) == []
    assert fed(START + b"abc", SILENCE_S + 0.1, b"q") == [Pasted("abc", ended=False), Keyed("q")]


@pytest.mark.parametrize("rest", [b"and Dy at last" + b"." * 10, b"Dy" + END, b"\x1b[31mDy" + END])
def test_the_rest_of_a_paste_that_stalled_is_still_pasted(rest: bytes) -> None:
    units = fed(START + b"abc", SILENCE_S + 0.1, rest, b"" if END in rest else END, b"q")
    assert typed(units) == "q"
    assert [type(unit) for unit in units] == [Pasted, Pasted, Keyed]


def test_an_end_without_a_beginning_is_nothing() -> None:
    assert fed(b"a" + END + b"b") == [Keyed("a"), Keyed("b")]


# Answers


@pytest.mark.parametrize("answer", ANSWERS)
def test_no_answer_is_a_key_wherever_it_is_cut(answer: bytes) -> None:
    """In one piece, in two, in two with a pause that makes an escape of its first byte, and byte by byte."""
    assert fed(b"a" + answer + b"b") == [Keyed("a"), Keyed("b")]
    for cut in range(1, len(answer)):
        assert typed(fed(answer[:cut], answer[cut:], b"b")) == "b", cut
        for pause in (ESCAPE_S * 2, UNFINISHED_S * 0.9):
            late = fed(answer[:cut], pause, answer[cut:], b"b")
            assert typed(late) == ("b" if cut > 1 else "\x1bb"), (cut, pause)
    assert typed(fed(*(bytes([byte]) for byte in answer), b"b")) == "b"


def test_what_stands_alone_after_an_escape_is_a_key_after_all() -> None:
    assert fed(b"\x1b", 0.2, b"[", ESCAPE_S * 1.1, b"q") == [ESCAPE, Keyed("["), Keyed("q")]
    assert fed(b"\x1b", 0.2, b"Pa") == [ESCAPE, Keyed("Pa")]
    assert fed(b"\x1b]q\x1bPq") == [ESCAPE, Keyed("]q"), ESCAPE, Keyed("Pq")]
    assert fed(b"\x1bO", UNFINISHED_S + 0.1) == [ESCAPE, Keyed("O")]
    assert fed(b"\x1b", ESCAPE_S * 1.1, LATE_S + 0.1, b"[A") == [ESCAPE, Keyed("[A")]


def test_the_cursors_place_is_an_answer_of_ours() -> None:
    assert fed(b"\x1b[12;40R") == [CursorAt(39, 11)]


def test_an_unfinished_sequence_is_forgotten_in_time() -> None:
    assert fed(b"\x1b[1;", UNFINISHED_S - 0.1, b"q") == [Keyed("\x1b[1;q")], "still its end"
    assert fed(b"\x1b[1;", UNFINISHED_S + 0.1, b"q") == [Keyed("q")]
    assert fed(b"\x1b]0;" + b"x" * 10_000, UNFINISHED_S + 0.1, b"q") == [Keyed("q")]


def test_an_endless_sequence_takes_no_memory_and_makes_no_key() -> None:
    incoming = Incoming(lambda: ESCAPE_S)
    for _ in range(1_000):
        assert incoming.feed(b"\x1b[" if _ == 0 else b"1" * 100, 1.0) == []
    assert len(incoming._held) <= KEPT
    assert incoming.feed(b"Aq", 1.0) == [Keyed("q")]


# Bytes that are nothing


def test_a_byte_that_is_no_utf8_is_one_doubtful_character() -> None:
    assert fed("a\xe9b".encode("latin-1")) == [Keyed("a\ufffdb")]
    assert fed(b"\xe9", ESCAPE_S * 1.1) == [Keyed("\ufffd")]
    assert fed(b"\xc3", b"\xa9") == [Keyed("\xe9")]


POISON = [
    b"\x1b[1114112;1u",
    b"\x1b[99999999999999999999u",
    b"\x1b[55296;1u",
    b"\x1b[97:65;5u",
    b"\x1b[97;5:1u",
    b"\x1b[97;5;1114112u",
    b"\x1b[" + b"0" * 5000 + b";5;97:98u",
    b"\x1b[999999999999R",
    b"\x1b[<0;99999999;1M",
    b"\x1b[<0;1;-1M",
    b"\x1b[M\xff\xff\xff",
]


@pytest.mark.parametrize("poison", POISON)
def test_what_the_parser_could_not_take_does_not_reach_it(poison: bytes) -> None:
    assert fed(b"a" + poison + b"b") == [Keyed("a"), Keyed("b")]


def test_a_key_that_makes_several_characters_is_handed_on_in_as_many() -> None:
    assert fed("\x1b[0;;{}u".format(":".join(str(ord(c)) for c in "自転車屋の歯車")).encode()) == [
        Keyed(f"\x1b[0;;{ord(c)}u") for c in "自転車屋の歯車"
    ]
