"""Saving: the file on disk is always the old one or the new one, whole, and the last version is kept.

A save goes into a temporary file of the same folder, is flushed to the disk, and takes the name over; then
the folder is flushed. The version before stays beside it as `name.toml~`, where an editor would put it and
where the shelf, which lists `*.toml`, does not see it; the very first one that was ever saved over or deleted
stays for good as `name.toml.orig`. Savers of one folder take turns.

What a person wrote in the file stays (`toml_edit`). A save edits the text that a person last left, not what
the program has made of it since: so what is taken back stands again where it stood, to the byte.
"""

import os
import tomllib
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import replace
from itertools import chain
from itertools import count as count_from
from pathlib import Path
from typing import TypeVar

from cogwright.core.common.errors import InputError, Problem
from cogwright.core.common.safe_text import shown_name
from cogwright.core.common.words import count
from cogwright.core.setup.model import Section, Setup
from cogwright.store.atomic import (
    flush,
    keep_as,
    may_replace,
    noted,
    other_names,
    sweep,
    take_over,
    written_beside,
)
from cogwright.store.documents import Document, parse, to_toml
from cogwright.store.files import Stamp, StoreError, problem_of, read_bytes, stamp_of
from cogwright.store.locks import folder_lock

_BOM = "\ufeff"
_FIRST = ".orig"
Version = tuple[bytes, Stamp]
S = TypeVar("S", bound=Section)


class ChangedOnDisk(StoreError):
    """The file is not what it was when it was read: ask, and save again over `stamp` if that is wanted.

    `setup` is what is there now, None if the file is gone (`stamp` is None then too) or cannot be read as a
    setup (`problems` say why).
    """

    def __init__(self, path: Path, stamp: Stamp | None, setup: Setup | None, problems: tuple[Problem, ...]):
        self.path, self.stamp, self.setup, self.problems = path, stamp, setup, problems
        what = "is gone" if stamp is None else "was changed by another program"
        super().__init__(f"{shown_name(path.name)} {what} since it was read")


class AlreadyThere(StoreError):
    """A new file would take the name of one that is there."""


class HardLinked(StoreError):
    """The file has other names, which a save would part it from: ask, and save again with `part=True`."""

    def __init__(self, path: Path, names: int):
        self.path, self.names = path, names
        more = count(names, "more name")
        super().__init__(
            f"Not saved: {shown_name(path.name)} has {more} on the disk (hard links), and a save would leave "
            "the version before under the other; save under another name, or write this name alone"
        )


def backup_of(path: Path) -> Path:
    """Where the last version of a file is kept."""
    return path.with_name(path.name + "~")


def first_of(path: Path) -> Path:
    """Where the very first version of a file is kept, for good: the bike as it came in.

    What another program has left under that name stays, and the first version has a number.
    """
    plain = path.with_name(path.name + _FIRST)
    more = (path.with_name(f"{path.name}{_FIRST}-{number}") for number in count_from(2))
    return next(name for name in chain((plain,), more) if not os.path.lexists(name) or _is_ours(name))


def _is_ours(path: Path) -> bool:
    """Whether a file says what every file of ours says at its top."""
    with suppress(InputError, ValueError, RecursionError):
        return "format" in tomllib.loads(read_bytes(path)[0].decode("utf-8-sig"))
    return False


def _keep_first(path: Path, data: bytes) -> str:
    """Keep the version `data` of a file if it is the first: a copy, which nothing writes over any more."""
    first = first_of(path)
    return "" if os.path.lexists(first) else keep_as(path, first, data, alone=False)


def lost_by_saving(path: Path, setup: Section, over: Stamp) -> tuple[str, ...]:
    """What saving the setup over that version would lose of its comments and its layout; mostly nothing.

    None where the version is not there any more, or the setup cannot be saved: the save itself will say so.
    """
    try:
        data, stamp = read_bytes(real_path(path))
        meant = _readable(setup)
    except (InputError, StoreError):
        return ()
    return _edited(meant, over.made_from or data)[1] if stamp.digest == over.digest else ()


def write_setup(
    path: Path, setup: Setup, over: Stamp | None = None, part: bool = False, like: Path | None = None
) -> Document[Setup]:
    """Save a setup: see `write_document`."""
    return write_document(path, setup, over, part, like)


def write_document(
    path: Path, value: S, over: Stamp | None = None, part: bool = False, like: Path | None = None
) -> Document[S]:
    """Save a setup or a parts bin; the document as it is on the disk now.

    `over` is the stamp of the version that it replaces, None for a new file. Raises ChangedOnDisk or
    AlreadyThere when that is not what is there, HardLinked when the file has other names and shall not `part`
    from them, StoreError when it cannot be written; the file is then as it was. What goes wrong once the new
    version stands is no error but the document's `doubt`. A link stays a link: the file that it points at is
    written. A new file is written in the text of the file that it shall be `like`, with its comments.
    """
    real = real_path(path)
    with _failing_clearly("Not saved", path), folder_lock(real.parent) as lock:
        if lock.held:
            sweep(real.parent)
        old = _there(real)
        _expect(path, old, over)
        model = _text_of(like) if old is None else (over and over.made_from) or old[0]
        data = _edited(_readable(value), model)[0].encode()
        if old is not None and old[0] == data:  # a save without a change keeps the backup
            return Document(path, value, replace(old[1], made_from=_made_from(old, over)), flush(lock.handle))
        status, doubts = _replaced(path, real, data, old, part)
        doubt = "; ".join(filter(None, (doubts, flush(lock.handle))))
    stamp = stamp_of(data, status)
    return Document(path, value, replace(stamp, made_from=_made_from(old, over)), doubt)


def _replaced(
    path: Path, real: Path, data: bytes, old: Version | None, part: bool
) -> tuple[os.stat_result, str]:
    """Put the new version in the place of the old one, which is kept: its status, and what is left behind."""
    names = other_names(real) if old is not None else 0
    if names and not part:
        raise HardLinked(path, names)
    may_replace(real)
    temporary = written_beside(real, data, real if old is not None else None)
    with noted(temporary):
        left = _kept(real, old[0], names == 0) if old is not None else ""
    return take_over(temporary, real), left


def _kept(real: Path, data: bytes, alone: bool) -> str:
    """Keep what stands there as the version before, and if it is the first as that; what is left behind."""
    first = _keep_first(real, data)
    return "; ".join(filter(None, (first, keep_as(real, backup_of(real), data, alone))))


def delete(path: Path, over: Stamp | None = None) -> str:
    """Delete a file by making it its own backup; `over` is the version that is meant, if it was read.

    What is not certain of it, in words, mostly nothing. Raises ChangedOnDisk, StoreError.
    """
    with _failing_clearly("Not deleted", path), folder_lock(path.parent) as lock:
        if over is not None:
            _expect(path, _there(path), over)
        old = _there_or_none(path)
        left = _keep_first(path, old[0]) if old is not None else ""
        os.replace(path, backup_of(path))
        return "; ".join(filter(None, (left, flush(lock.handle))))


def undelete(path: Path) -> str:
    """Bring a deleted file back from its backup; what is not certain of it, in words.

    Raises AlreadyThere, StoreError.
    """
    with _failing_clearly("Not brought back", path), folder_lock(path.parent) as lock:
        if os.path.lexists(path):
            raise AlreadyThere(f"{shown_name(path.name)} is there already")
        os.replace(backup_of(path), path)
        return flush(lock.handle)


def real_path(path: Path) -> Path:
    """The file that a link points at: a save changes that and leaves the link. Raises StoreError."""
    try:
        return path.resolve(strict=False)
    except (OSError, RuntimeError) as error:
        raise StoreError(f"{shown_name(str(path))}: its links lead in a circle; remove the link") from error


def _readable(setup: S) -> S:
    """The value as it will be read again. Raises StoreError where it could not be."""
    try:
        return parse(to_toml(setup), type(setup))
    except InputError as error:
        raise StoreError(f"Not saved, because it could not be read again: {error}") from error


def _edited(setup: Section, model: bytes | None) -> tuple[str, tuple[str, ...]]:
    """The text of the setup, anew or in a text that a person has left, and what goes with that."""
    from cogwright.store.toml_edit import edited  # here, for its library is needed by saves alone

    try:
        text = model.decode() if model is not None else ""
    except UnicodeDecodeError:
        text = ""
    if not text:
        return to_toml(setup), ()
    mark = _BOM if text.startswith(_BOM) else ""
    found = edited(text.removeprefix(_BOM), setup)
    return mark + found.text, found.lost


def _text_of(like: Path | None) -> bytes | None:
    """What another file says; None where there is none, or it cannot be read."""
    with suppress(InputError):
        return read_bytes(like)[0] if like is not None else None
    return None


def _made_from(old: Version | None, over: Stamp | None) -> bytes | None:
    """The text that a version was edited from, for the next save: what a person last left."""
    if old is None:
        return None
    return (over.made_from if over is not None else None) or old[0]


@contextmanager
def _failing_clearly(what: str, path: Path) -> Iterator[None]:
    """Errors of the system and of a file as what was not done, why, and what was left behind."""
    try:
        yield
    except InputError as error:
        raise StoreError(_with_notes(f"{what}: {error}", error)) from error
    except (OSError, ValueError) as error:
        raise StoreError(_with_notes(f"{what}: {_trouble(error, path)}", error)) from error


def _with_notes(text: str, error: BaseException) -> str:
    return "; ".join((text, *getattr(error, "__notes__", ())))


def _trouble(error: OSError | ValueError, path: Path) -> Problem:
    if isinstance(error, FileNotFoundError | NotADirectoryError) and not os.path.isdir(path.parent):
        return Problem("its folder is gone", "make the folder again, then try again", file=str(path))
    return problem_of(error, path)


def _there(path: Path) -> Version | None:
    """What is on the disk now; None when there is nothing."""
    return read_bytes(path) if os.path.lexists(path) else None


def _there_or_none(path: Path) -> Version | None:
    """The same; None too for what cannot be read, which is no version of a setup."""
    with suppress(InputError):
        return _there(path)
    return None


def _expect(path: Path, old: Version | None, over: Stamp | None) -> None:
    if old is None and over is not None:
        raise ChangedOnDisk(path, None, None, ())
    if old is None or (over is not None and old[1].digest == over.digest):
        return
    if over is None:
        raise AlreadyThere(f"{shown_name(path.name)} is there already; choose another name")
    raise ChangedOnDisk(path, old[1], *_as_setup(path, old[0]))


def _as_setup(path: Path, data: bytes) -> tuple[Setup | None, tuple[Problem, ...]]:
    """The setup that a content is, or why it is none."""
    try:
        return parse(data.decode("utf-8-sig"), Setup, shown_name(str(path))), ()
    except UnicodeDecodeError:
        return None, (Problem("the file is not UTF-8 text"),)
    except InputError as error:
        return None, error.problems
