"""Names of files: suggested, numbered where they are taken, and as seen from a folder."""

from pathlib import Path

import pytest

from cogwright.store.exports import write_export
from cogwright.store.files import StoreError
from cogwright.store.folders import make_folder
from cogwright.store.paths import numbered, relative_to, suggested_name


def test_a_name_that_is_taken_gets_the_first_free_number(tmp_path: Path) -> None:
    path = tmp_path / "tourer.toml"
    assert numbered(path) == path
    path.touch()
    assert numbered(path).name == "tourer-2.toml"
    (tmp_path / "tourer-2.toml").symlink_to("nowhere")
    assert numbered(path).name == "tourer-3.toml", "a link that leads nowhere takes a name, too"


def test_a_file_is_named_by_its_way_from_a_folder(tmp_path: Path) -> None:
    shelf = tmp_path / "shelf"
    assert relative_to(shelf, shelf / "a.toml") == "a.toml"
    assert relative_to(shelf, tmp_path / "bins" / "b.toml") == "../bins/b.toml"
    assert relative_to(shelf, shelf / "x" / ".." / "a.toml") == "a.toml"


@pytest.mark.parametrize(
    ("title", "name"),
    [("Yard 7: tourer", "yard-7-tourer"), ("Æ 漢", "setup"), ("x" * 90, "x" * 60)],
)
def test_a_title_makes_a_plain_name(title: str, name: str) -> None:
    assert suggested_name(title) == f"{name}.toml"


def test_what_is_exported_never_takes_the_place_of_anything(tmp_path: Path) -> None:
    first, second = (write_export("fit.txt", text, tmp_path) for text in ("one", "two"))
    assert (first.name, first.read_text()) == ("fit.txt", "one")
    assert (second.name, second.read_text()) == ("fit-2.txt", "two")
    with pytest.raises(StoreError, match="Not written: "):
        write_export("fit.txt", "x", tmp_path / "nowhere")


def test_a_folder_is_made_with_those_above_it_and_a_file_in_the_way_is_said(tmp_path: Path) -> None:
    for _ in range(2):
        make_folder(tmp_path / "a" / "b")
    assert (tmp_path / "a" / "b").is_dir()
    (tmp_path / "file").touch()
    with pytest.raises(StoreError, match="Not made: "):
        make_folder(tmp_path / "file" / "b")
