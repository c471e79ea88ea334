"""Figures that a file gives once for all or as a list, one a gap: how far apart, how much cable a click."""

#: One figure for every gap, or a list from the smallest sprocket to the largest.
Spacing = float | tuple[float, ...]


def each(given: Spacing | None, gaps: int) -> tuple[float, ...] | None:
    """One figure a gap; None where none is given, or a list of another length. No gap wants no figure.

    >>> each(3.95, 3), each((4.0, 4.1), 2), each((4.0, 4.1), 3)
    ((3.95, 3.95, 3.95), (4.0, 4.1), None)
    """
    if gaps == 0:
        return ()
    if isinstance(given, tuple):
        return given if len(given) == gaps else None
    return None if given is None else (given,) * gaps


def lacking(given: Spacing | None, key: str, gaps: int) -> str:
    """What is wanted of a key that gives too few figures or none, in words.

    >>> lacking(None, "rear.cog_pitch_mm", 9), lacking((4.0, 4.1), "rear.cog_pitch_mm", 9)
    ('rear.cog_pitch_mm', 'rear.cog_pitch_mm with 9 figures (it has 2)')
    """
    return f"{key} with {gaps} figures (it has {len(given)})" if isinstance(given, tuple) else key
