"""What lies in a folder, and what a typed path can mean."""

from pathlib import Path

import pytest

from cogwright.store.files import StoreError
from cogwright.store.folders import at_typed_path, inside


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for name in ("b10.toml", "b9.TOML", "a.txt", ".hidden.toml"):
        (tmp_path / name).write_text("")
    for name in ("rides", ".cache"):
        (tmp_path / name).mkdir()
    return tmp_path


def names(found: tuple[Path, ...]) -> list[str]:
    return [path.name for path in found]


def test_folders_come_first_and_files_by_name_as_people_count(folder: Path) -> None:
    assert names(inside(folder, [".toml"])) == ["rides", "b9.TOML", "b10.toml"]
    with pytest.raises(StoreError):
        inside(folder / "nowhere", [".toml"])


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("", ["rides", "b9.TOML", "b10.toml"]),
        ("B", ["b9.TOML", "b10.toml"]),
        ("ri", ["rides"]),
        ("rides/", []),
        ("a.txt", ["a.txt"]),
        ("nothing", []),
        ("nowhere/b", []),
        ("~nobody-of-this-name/b", []),
    ],
)
def test_a_typed_path_means_what_begins_like_it(typed: str, meant: list[str], folder: Path) -> None:
    found = at_typed_path(typed or "./", folder, [".toml"])
    assert names(found) == meant
