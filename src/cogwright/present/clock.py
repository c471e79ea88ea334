"""Times as a clock shows them: one form, so that those of a table and of a sentence are read alike."""


def clock(seconds: float) -> str:
    """Hours, minutes and seconds.

    >>> clock(0.4), clock(65.0), clock(3 * 3600 + 5 * 60 + 9.6)
    ('0:00:00', '0:01:05', '3:05:10')
    """
    minutes, rest = divmod(round(seconds), 60)
    hours, minutes = divmod(minutes, 60)
    return f"{hours}:{minutes:02d}:{rest:02d}"


def timed(seconds: float) -> str:
    """The same with its unit.

    >>> timed(65.0), timed(3 * 3600 + 5 * 60 + 9.6)
    ('0:01:05 h', '3:05:10 h')
    """
    return f"{clock(seconds)} h"
