"""Facts by their keys: which of them nobody has given."""

from collections.abc import Mapping


def absent(facts: Mapping[str, object]) -> tuple[str, ...]:
    """The keys of the facts that are not known.

    >>> absent({"frame.chainstay_mm": 435.0, "chain.links": None})
    ('chain.links',)
    """
    return tuple(key for key, value in facts.items() if value is None)
