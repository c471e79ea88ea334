"""Rows of a CSV file read in a stream: fields and numbers, with the line that each stands on."""

import codecs
import csv
from collections.abc import Iterable, Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass
from itertools import chain, islice
from typing import Final

from cogwright.core.common.numbers import number_in
from cogwright.store.tracks.xml_stream import error_in

#: Characters that a line may have.
_LINE: Final = 10_000
#: Lines looked at to find out what splits the fields.
_LOOKED_AT: Final = 5


@dataclass(frozen=True, slots=True)
class CsvRow:
    """The fields of a line of a file; `comma` says that a comma in one is a decimal mark."""

    line: int
    fields: Sequence[str]
    comma: bool

    def number(self, at: int | None) -> float | None:
        """The number in a field; None where there is none, or no such field."""
        if at is None or at >= len(self.fields):
            return None
        text = self.fields[at]
        with suppress(ValueError):
            return number_in(text) if self.comma or "," not in text else None
        return None

    def names(self) -> list[str]:
        """The fields as names of columns: small letters, no quotes, no spaces."""
        return [name.casefold().strip('"').replace(" ", "_") for name in self.fields]


def rows(pieces: Iterable[bytes], file: str, mend: str) -> Iterator[CsvRow]:
    """The rows of a CSV text; lines that are empty or start with `#` are passed over.

    Fields are split by semicolons, tabs or commas; with the first two a comma may be the decimal mark.
    Raises InputError.
    """
    lines = _lines(pieces, file, mend)
    first = list(islice(lines, _LOOKED_AT))
    split = next((mark for mark in ";\t" if any(mark in line for line in first)), ",")
    reader = csv.reader(chain(first, lines), delimiter=split)
    try:
        for row in reader:
            fields = [part.strip() for part in row]
            if any(fields) and not fields[0].startswith("#"):
                yield CsvRow(reader.line_num, fields, split != ",")
    except csv.Error as error:
        raise error_in(file, f"not valid CSV: {error}", mend, reader.line_num) from error


def _lines(pieces: Iterable[bytes], file: str, mend: str) -> Iterator[str]:
    """The lines of a text; the last one is kept back, as the next piece may go on with it."""
    decoder, kept, done = codecs.getincrementaldecoder("utf-8-sig")(), "", 0
    for piece in chain(pieces, [b""]):
        try:
            text = kept + decoder.decode(piece, final=not piece)
        except UnicodeDecodeError as error:
            raise error_in(file, "the file is not UTF-8 text", "save it as UTF-8") from error
        *whole, kept = text.splitlines(keepends=True) or [""]
        yield from whole
        done += len(whole)
        if len(kept) > _LINE:
            what = f"not valid CSV: a line of more than {_LINE:,} characters"
            raise error_in(file, what, mend, done + 1)
    if kept:
        yield kept
