"""A TOML list with other elements in it, and the rest of its text as it stood: comments, line breaks, spaces.

Elements that stay keep their text and what stands after them; others take the place of those that go, or are
put in beside them. A comment is never lost: what stood beside an element that goes stays where it was.
"""

import re
import tomllib
from collections.abc import Sequence
from difflib import SequenceMatcher
from typing import Any, Final

_TOKEN: Final = re.compile(r'#[^\n]*|"(?:\\.|[^"\\\n])*"|\'[^\'\n]*\'|[\[\]{},]|[ \t\r\n]+|[^\s,\[\]{}#"\']+')


def with_elements(text: str, values: Sequence[str]) -> str:
    """The list with these elements, each a TOML literal, in this order.

    >>> with_elements("[11, 13,  15 ]", ["11", "12", "15"])
    '[11, 12,  15 ]'
    """
    items, gaps = _parted(text)
    trailing = bool(items) and _has_comma(gaps[-1])
    read = [_value(item) for item in items]
    for kind, low, high, start, end in reversed(_changes(read, [_value(one) for one in values])):
        put = list(values[start:end]) if kind != "equal" else items[low:high]
        shared = min(high - low, len(put))
        items[low : low + shared] = map(_exchanged, items[low : low + shared], put[:shared])
        for _ in range(high - low - shared):
            _take_out(items, gaps, low + shared)
        for at, one in enumerate(put[shared:], low + shared):
            _put_in(items, gaps, at, one)
    last = len(items)
    commas = [0 < at < last or (at == last > 0 and trailing) for at in range(last + 1)]
    gaps = [_with_comma(gap, wanted) for gap, wanted in zip(gaps, commas, strict=True)]
    return "[" + gaps[0] + "".join(item + gap for item, gap in zip(items, gaps[1:], strict=True)) + "]"


def in_the_order_of(old: Sequence[int], new: Sequence[int]) -> list[int]:
    """Whole numbers that are a set, in the order of the old ones: rising, falling, or as they come.

    >>> in_the_order_of((46, 30), (30, 34, 48)), in_the_order_of((30, 46, 38), (30, 44, 46))
    ([48, 34, 30], [30, 46, 44])
    """
    if list(old) == sorted(old):
        return sorted(new)
    if list(old) == sorted(old, reverse=True):
        return sorted(new, reverse=True)
    come = iter(sorted(set(new) - set(old)))
    kept = [n if n in new else next(come, None) for n in old]
    return [n for n in kept if n is not None] + list(come)


def _exchanged(old: str, new: str) -> str:
    """One element in the place of another; a list in the text of the other, with its comments."""
    return with_elements(old, _parted(new)[0]) if old[0] == new[0] == "[" else new


def _changes(old: list[Any], new: list[Any]) -> list[tuple[str, int, int, int, int]]:
    before, after = (list(map(repr, each)) for each in (old, new))
    return list(SequenceMatcher(None, before, after, autojunk=False).get_opcodes())


def _value(literal: str) -> Any:
    """What a literal says; the elements of a list in it in rising order, as the model takes them."""
    value = tomllib.loads(f"x = {literal}")["x"]
    return sorted(value) if isinstance(value, list) else float(value) if isinstance(value, int) else value


def _parted(text: str) -> tuple[list[str], list[str]]:
    """The elements' texts, and what stands before, between and after them."""
    items: list[str] = []
    gaps, depth = [""], 0
    for match in _TOKEN.finditer(text, 1, len(text) - 1):
        token = match[0]
        between = depth == 0 and (token[0] in "#," or token.isspace())
        if between:
            gaps[-1] += token
        elif depth == 0:
            items.append(token)
            gaps.append("")
        else:
            items[-1] += token
        depth += (token in "[{") - (token in "]}")
    return items, gaps


def _take_out(items: list[str], gaps: list[str], at: int) -> None:
    """Take an element out; of what stood on both sides the part stays that has a comment, or a line break."""
    before, after = gaps[at], gaps[at + 1]
    rest = _with_comma(after, False).lstrip(" \t")
    inside = "".join(f"{each}\n" for each in re.findall(r"#[^\n]*", items[at]))
    if "#" in before and ("#" in after or inside):
        joined = before + inside + rest
    elif "#" in before:
        joined = before
    elif "#" in after or inside:
        joined = (before if "\n" in before else " ") + inside + rest
    else:
        joined = before if "\n" in before or "\n" not in after else after
    if at == len(items) - 1 and "#" not in joined:
        joined = after
    if at == 0 and "#" not in joined:
        joined = before
    items[at : at + 1] = []
    gaps[at : at + 2] = [joined]


def _put_in(items: list[str], gaps: list[str], at: int, item: str) -> None:
    """Put an element in; it is set off from its neighbour as those beside it are from theirs."""
    inner = [gap for gap in gaps[1:-1] if "#" not in gap]
    gap = inner[max(min(at, len(inner)) - 1, 0)] if inner else ", "
    items.insert(at, item)
    if len(items) == 1:
        gaps.append("")
    elif at < len(items) - 1:
        gaps.insert(at + 1, gap)
    elif "#" in gaps[-1].partition("\n")[0]:  # a comment on the line of the element that was the last
        remark, _, rest = gaps[-1].partition("\n")
        gaps[-1:] = [f"{remark}\n{_indent(gaps)}", f"\n{rest}"]
    else:
        gaps.insert(at, gap)


def _indent(gaps: list[str]) -> str:
    """What elements that begin a line are set in by."""
    begun = [gap.rpartition("\n")[2] for gap in gaps[:-1] if "\n" in gap]
    return begun[-1] if begun else "  "


def _has_comma(gap: str) -> bool:
    return "," in re.sub(r"#[^\n]*", "", gap)


def _with_comma(gap: str, wanted: bool) -> str:
    """What stands between two elements with one comma in it, or none."""
    parts = re.split(r"(#[^\n]*)", gap)
    if wanted and not _has_comma(gap):
        return "," + gap
    seen = not wanted
    for at in range(0, len(parts), 2):
        kept = "" if seen else ","
        before, found, after = parts[at].partition(",")
        if found:
            seen = True
            parts[at] = before + kept + after.replace(",", "")
    return "".join(parts)
