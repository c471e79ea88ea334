"""What a cassette falls into: loose cogs, and carriers of cogs riveted together."""

#: A loose cog is a piece of one, a carrier a piece of several; ascending.
Pieces = tuple[tuple[int, ...], ...]


def pieces(carriers: Pieces, cogs: tuple[int, ...]) -> Pieces:
    """The carriers that are there whole, and the cogs that are loose, smallest first.

    >>> pieces(((23, 25, 28), (31, 34)), (21, 23, 25, 28, 31))
    ((21,), (23, 25, 28), (31,))
    """
    whole = [carrier for carrier in carriers if set(carrier) <= set(cogs)]
    riveted = {n for carrier in whole for n in carrier}
    return tuple(sorted([*whole, *((n,) for n in cogs if n not in riveted)]))
