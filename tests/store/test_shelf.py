"""The shelf: good setups are never hidden by bad ones, and nothing that a folder may hold stops it."""

import os
import shutil
import socket
import time
import tomllib
from pathlib import Path

import pytest

from cogwright.core.common.errors import InputError
from cogwright.core.setup.model import Setup
from cogwright.store import files
from cogwright.store.documents import read_document, to_toml
from cogwright.store.saving import write_setup
from cogwright.store.shelf import entries, has_changed, read_shelf, setup_paths
from support import long_run, make

TEXT = to_toml(make([30, 46], [11, 13, 15, 17, 19, 21, 24, 28]))


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """One good setup among everything else that can have such a name."""
    (tmp_path / "good.toml").write_text(TEXT)
    (tmp_path / "bad.toml").write_text("format = 1\nname = 3\n")
    (tmp_path / "bytes.toml").write_bytes(b"\xff\xfe\x00")
    (tmp_path / "empty.toml").write_text("")
    (tmp_path / "folder.toml").mkdir()
    os.mkfifo(tmp_path / "pipe.toml")
    (tmp_path / "device.toml").symlink_to("/dev/zero")
    (tmp_path / "terminal.toml").symlink_to("/dev/tty")
    (tmp_path / "loop.toml").symlink_to("loop.toml")
    (tmp_path / "dangling.toml").symlink_to("nowhere.toml")
    with open(tmp_path / "huge.toml", "wb") as huge:
        huge.truncate(1_000_000_000)
    listening = socket.socket(socket.AF_UNIX)
    listening.bind(str(tmp_path / "s.toml"))
    listening.close()
    for name in ("good.toml~", "good.toml.orig", ".hidden.toml", "notes.txt", ".cogwright-1.tmp"):
        (tmp_path / name).write_text(TEXT)
    return tmp_path


def test_one_good_setup_among_all_that_can_be_in_a_folder(folder: Path) -> None:
    begun = time.perf_counter()
    found = {entry.name.removesuffix(".toml"): entry for entry in read_shelf(folder)}
    assert time.perf_counter() - begun < 10  # it neither waits nor reads the huge one
    assert found.pop("good").setup is not None
    said = {name: str(entry.problems[0]).split(": ", 1)[1] for name, entry in found.items()}
    assert all(entry.setup is None for entry in found.values())
    assert said == {
        "bad": "wheel: the table is missing; add [wheel]",
        "bytes": "the file is not UTF-8 text: byte 0xff; save it as UTF-8",
        "empty": "the file is empty; write format = 1, a name and the tables",
        "folder": "this is a folder, not a file; name a TOML file",
        "pipe": "this is a pipe, not a file; name a TOML file",
        "device": "this is a device, not a file; name a TOML file",
        "terminal": "this is a device, not a file; name a TOML file",
        "loop": "its links lead in a circle; remove the link or point it at a file",
        "dangling": "there is no such file; check the name and the folder",
        "huge": "the file is too large: 1,000,000 kB, and 200 kB are the most; name a file of this program",
        "s": "this is a socket, not a file; name a TOML file",
    }


def test_a_file_that_becomes_a_pipe_after_the_look_does_not_block(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    good, pipe = tmp_path / "good.toml", tmp_path / "pipe.toml"
    good.write_text(TEXT)
    os.mkfifo(pipe)
    looked_at_good = os.stat(good)
    monkeypatch.setattr(files.os, "stat", lambda path: looked_at_good)
    with pytest.raises(InputError, match="a pipe"):
        files.read_bytes(pipe)


def test_a_file_that_grows_after_the_look_is_not_slurped(tmp_path: Path) -> None:
    path = tmp_path / "a.toml"
    path.write_text(TEXT)
    with pytest.raises(InputError, match="too large"):
        read_document(path, Setup, limit=10)


def test_no_folder_is_an_error_before_the_first_entry(tmp_path: Path) -> None:
    for path in (tmp_path / "gone", tmp_path / "a\0b"):
        with pytest.raises(InputError):
            entries(path)
    path = tmp_path / "vanishing"
    path.mkdir()
    (path / "a.toml").write_text(TEXT)
    coming = entries(path)
    shutil.rmtree(path)
    assert "there is no such file" in str(next(coming).problems[0])


def test_names_are_ordered_as_people_count(tmp_path: Path) -> None:
    for name in ("Yard 10", "yard 2", "Yard 1", "7", "x" + "9" * 60):
        (tmp_path / f"{name}.toml").touch()
    assert [path.stem for path in setup_paths(tmp_path)] == [
        "7",
        "x" + "9" * 60,
        "Yard 1",
        "yard 2",
        "Yard 10",
    ]


def test_a_second_look_reads_only_what_has_changed(tmp_path: Path) -> None:
    for name in ("a", "b", "c"):
        (tmp_path / f"{name}.toml").write_text(TEXT)
    first = read_shelf(tmp_path)
    (tmp_path / "b.toml").write_text(TEXT.replace("Test bike", "Yard 2"))
    (tmp_path / "c.toml").unlink()
    second = read_shelf(tmp_path, first)
    assert [entry.name for entry in second] == ["a.toml", "b.toml"]
    assert second[0] is first[0]
    assert second[1].setup is not None
    assert second[1].setup.name == "Yard 2"


@pytest.mark.long
def test_of_a_thousand_setups_each_is_read_and_parsed_once(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """How long that takes is for the benchmark, which opens such a shelf."""
    count = long_run(1000, 5)
    for at in range(count):
        (tmp_path / f"yard {at}.toml").write_text(TEXT)
    parsed: list[str] = []
    loads = tomllib.loads
    monkeypatch.setattr(tomllib, "loads", lambda text: parsed.append(text) or loads(text))
    opened: list[str] = []
    opens = os.open
    monkeypatch.setattr(os, "open", lambda path, *more: opened.append(str(path)) or opens(path, *more))
    shelf = read_shelf(tmp_path)
    assert len(parsed) == count
    assert sorted(path for path in opened if path.endswith(".toml")) == sorted(map(str, tmp_path.iterdir()))
    assert len(shelf) == count
    assert all(entry.setup for entry in shelf)


def test_a_file_that_is_gone_or_another_has_changed(tmp_path: Path) -> None:
    path = tmp_path / "a.toml"
    stamp = write_setup(path, make([30, 46], [11, 13])).stamp
    assert has_changed(path, stamp) is False
    os.utime(path, (0, 0))
    assert has_changed(path, stamp) is False, "the same bytes at another time"
    path.write_bytes(path.read_bytes() + b"# another")
    assert has_changed(path, stamp) is True
    path.unlink()
    assert has_changed(path, stamp) is True
