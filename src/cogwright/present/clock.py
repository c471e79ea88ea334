"""Times as riders say them."""


def clock(seconds: float) -> str:
    """Minutes and seconds, with hours where there are some.

    >>> clock(0.4), clock(65.0), clock(3 * 3600 + 5 * 60 + 9.6)
    ('0:00', '1:05', '3:05:10')
    """
    minutes, rest = divmod(round(seconds), 60)
    hours, minutes = divmod(minutes, 60)
    return f"{hours}:{minutes:02d}:{rest:02d}" if hours else f"{minutes}:{rest:02d}"


def timed(seconds: float) -> str:
    """The same with its unit.

    >>> timed(65.0), timed(3 * 3600 + 5 * 60 + 9.6)
    ('1:05 min', '3:05:10 h')
    """
    return f"{clock(seconds)} {'h' if round(seconds) >= 3600 else 'min'}"
