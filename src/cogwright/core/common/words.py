"""English for figures: things counted, and things listed as a sentence lists them."""

from collections.abc import Iterable, Sequence


def listed(words: Iterable[object], last: str = "and") -> str:
    """Words as a sentence lists them.

    >>> listed([23, 25, 28])
    '23, 25 and 28'
    """
    *most, end = map(str, words)
    return f"{', '.join(most)} {last} {end}" if most else end


def few(names: Sequence[str], most: int) -> str:
    """Names in full, of many the first and how many more.

    >>> few(["34x11", "34x13"], 3), few(["34x11", "34x13", "34x15", "46x28"], 2)
    ('34x11, 34x13', '34x11, 34x13 and 2 more')
    """
    more = f" and {len(names) - most} more" if len(names) > most else ""
    return ", ".join(names[:most]) + more


def count(number: int, thing: str) -> str:
    """A number of things.

    >>> count(1, "cog"), count(2, "pitch")
    ('1 cog', '2 pitches')
    """
    plural = f"{thing}es" if thing.endswith(("ch", "s", "x")) else f"{thing}s"
    return f"{number} {thing if number == 1 else plural}"


def both_ends(words: Sequence[str], room: int) -> str:
    """Words in so many cells: where there are too many, those in the middle give way to both ends.

    >>> both_ends("11 13 15 17 20 23 26 30 34 39 45".split(), 20), both_ends(["11", "13"], 20)
    ('11 13 15 .. 34 39 45', '11 13')
    """
    text = ""
    for kept in range(len(words), 1, -1):
        first, last = words[: (kept + 1) // 2], words[len(words) - kept // 2 :]
        text = " ".join([*first, *[".."] * (kept < len(words)), *last])
        if len(text) <= room:
            return text
    return text or " ".join(words)
