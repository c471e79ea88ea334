"""What differs between two setups, in the trade's words: for a draft, a conflict, a version before."""

from collections.abc import Iterator

from pydantic import BaseModel

from cogwright.core.common.safe_text import clean, cut
from cogwright.core.setup.model import Setup

_SHOWN_CELLS = 40


def differences(before: Setup, after: Setup) -> tuple[str, ...]:
    """What `after` has otherwise than `before`, one short line a fact; none when they are equal.

    Lines read `cog 28 to 30`, `cogs: 32 gone` and `chain.links: 112, was 110`.
    """
    return tuple(_differences(before, after, ""))


def known_to_differ(one: BaseModel, other: BaseModel, *keys: str) -> bool:
    """Whether any of these facts is known on both sides and not the same."""
    pairs = ((getattr(one, key), getattr(other, key)) for key in keys)
    return any(None not in pair and pair[0] != pair[1] for pair in pairs)


def _differences(before: BaseModel, after: BaseModel, within: str) -> Iterator[str]:
    for name in type(before).model_fields:
        old, new = getattr(before, name), getattr(after, name)
        if old == new:
            continue
        if isinstance(old, BaseModel) and isinstance(new, BaseModel):
            yield from _differences(old, new, f"{within}{name}.")
        elif within in {"crank.", "rear."} and name in {"rings", "cogs"}:
            yield _exchanged(name, old, new)
        elif name == "notes":
            yield "notes: changed"
        else:
            yield f"{within}{name}: {_change(old, new)}"


def _exchanged(name: str, old: tuple[int, ...], new: tuple[int, ...]) -> str:
    gone = [str(n) for n in old if n not in new]
    come = [str(n) for n in new if n not in old]
    if len(gone) == len(come) > 0:
        return f"{name if len(gone) > 1 else name[:-1]} {' '.join(gone)} to {' '.join(come)}"
    parts = [" ".join(gone) + " gone" if gone else "", " ".join(come) + " new" if come else ""]
    return f"{name}: {', '.join(part for part in parts if part) or 'in another order'}"


def _change(old: object, new: object) -> str:
    if old is None:
        return f"{_shown(new)}, not given before"
    return f"taken out, was {_shown(old)}" if new is None else f"{_shown(new)}, was {_shown(old)}"


def _shown(value: object) -> str:
    if isinstance(value, tuple):
        return "[" + ", ".join(map(_shown, value)) + "]"
    return f"{value:g}" if isinstance(value, float) else cut(clean(str(value)), _SHOWN_CELLS)
