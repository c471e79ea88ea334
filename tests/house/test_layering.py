"""The house holds: who may import whom, no circles, and how long a module may be. Read from the source."""

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import networkx as nx
import pytest

from house.sources import MODULES, SOURCE, nodes
from support import environment

LONGEST = 300
#: The one module that may use plotext, which takes longer to import than a first frame may.
PLOTS = Path("present/plot.py")


def calls(path: Path) -> set[str]:
    """The plain names that a file calls."""
    found = (node.func for node in nodes(path) if isinstance(node, ast.Call))
    return {called.id for called in found if isinstance(called, ast.Name)}


def imports(path: Path) -> Iterator[str]:
    """Every module that a file imports anywhere in it, in full."""
    for node in nodes(path):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: relative import"
            base = node.module or ""
            yield base
            yield from (f"{base}.{alias.name}" for alias in node.names)


def inside(module: str, *packages: str) -> bool:
    return any(module == name or module.startswith(name + ".") for name in packages)


def foreign(path: Path, *ours: str, others: tuple[str, ...] = ()) -> list[str]:
    """What a file imports beyond the standard library, `ours` (parts of cogwright) and `others`."""
    allowed = tuple(f"cogwright.{name}" for name in ours)
    return [
        name
        for name in imports(path)
        if name.split(".")[0] not in sys.stdlib_module_names
        and not inside(name, *allowed, *others)
        and name != "cogwright"
    ]


def under(folder: str) -> list[Path]:
    found = sorted((SOURCE / folder).rglob("*.py"))
    assert found, f"nothing in {folder}"
    return found


def module_of(path: Path) -> str:
    """The name that a file is imported by."""
    parts = path.relative_to(SOURCE.parent).with_suffix("").parts
    return ".".join(parts).removesuffix(".__init__")


def import_graph() -> "nx.DiGraph[str]":
    """An edge from each module of the program to each that it imports, late and for types only included."""
    known = {module_of(path) for path in MODULES}
    edges = [(module_of(path), name) for path in MODULES for name in imports(path) if name in known]
    return nx.DiGraph((here, there) for here, there in edges if here != there)


#: A package's own name says nothing of which of its modules is meant: these files hold no code.
PACKAGES = {module_of(path) for path in MODULES if path.name == "__init__.py"}


def circles(graph: "nx.DiGraph[str]") -> list[set[str]]:
    return [found for found in nx.strongly_connected_components(graph) if len(found) > 1]


def test_no_imports_run_in_a_circle() -> None:
    graph = import_graph()
    assert len(graph) > 100
    graph.remove_nodes_from(PACKAGES)
    assert circles(graph) == []


def test_a_circle_would_be_seen_however_it_is_imported(tmp_path: Path) -> None:
    late = tmp_path / "late.py"
    late.write_text(
        "from typing import TYPE_CHECKING\n"
        "if TYPE_CHECKING:\n    from cogwright.core.study import Study\n"
        "def f():\n    import cogwright.core.fit.check\n"
    )
    graph = import_graph()
    graph.add_edges_from(("cogwright.core.figures", name) for name in imports(late) if name in graph)
    assert any({"cogwright.core.figures", "cogwright.core.study"} <= found for found in circles(graph))


#: What core is built of, from the ground up: each imports only what stands before it.
CORE = (
    "common",
    "setup",
    "gears",
    "chain",
    "indexing",
    "wear",
    "drive",
    "figures",
    "fit",
    "study",
    "shifting",
    "riding",
    "motor",
    "parts",
    "worksheet",
    "comparing",
    "proposing",
)


def storey(module: str) -> int:
    """Where a module of core stands in CORE."""
    return CORE.index(module.removeprefix("cogwright.core.").split(".", maxsplit=1)[0])


def test_core_has_an_order_and_every_import_in_it_goes_down() -> None:
    graph = import_graph()
    graph.remove_nodes_from(PACKAGES)
    inside_core = [(a, b) for a, b in graph.edges if inside(a, "cogwright.core")]
    assert {name for edge in inside_core for name in edge if not inside(name, "cogwright.core")} == set()
    assert [(a, b) for a, b in inside_core if storey(a) < storey(b)] == []


def test_core_imports_only_itself_and_pydantic() -> None:
    for path in under("core"):
        assert foreign(path, "core", others=("pydantic", "pydantic_core")) == [], path


#: Anything here reads or writes outside the process; core and present do neither.
IO = ("os", "io.open", "pathlib", "shutil", "socket", "subprocess", "tempfile", "urllib", "http", "tomllib")


def test_the_pure_packages_touch_no_file() -> None:
    for path in under("core") + under("present"):
        assert [name for name in imports(path) if inside(name, *IO)] == [], path
        assert calls(path).isdisjoint({"open", "print", "input"}), path


def test_present_imports_core_and_only_a_plot_imports_plotext() -> None:
    for path in under("present"):
        others = ("plotext",) if path.relative_to(SOURCE) == PLOTS else ()
        assert foreign(path, "core", "present", others=others) == [], path


#: Validation, the file format, its edits in place, locks, where a system keeps things, recorded rides.
FILES = ("pydantic", "pydantic_core", "tomli_w", "tomlkit", "filelock", "platformdirs", "fitdecode")


def test_store_imports_core_and_what_files_need() -> None:
    for path in under("store"):
        assert foreign(path, "core", "store", others=FILES) == [], path


def test_all_but_the_app_does_without_what_only_unix_has() -> None:
    unix = ("termios", "fcntl", "pwd", "grp", "resource", "tty", "pty")
    for path in MODULES:
        home = path.relative_to(SOURCE).parts[0]
        assert home == "app" or [name for name in imports(path) if inside(name, *unix)] == [], path


def test_commands_import_neither_the_app_nor_a_screen() -> None:
    for path in under("commands"):
        assert foreign(path, "core", "store", "present", "commands") == [], path


#: Of the app, what may know the library that draws: the rest is functions of sessions.
DRAWS = {"safety", "terminal", "widgets", "palette", "sheet", "settings", "colours"}
DRAWS |= {"run", "main", "host", "interaction", "drawing", "drawer", "overlays"}


def test_controllers_and_states_know_neither_the_app_nor_its_library() -> None:
    for path in under("app"):
        if DRAWS.isdisjoint(path.relative_to(SOURCE).with_suffix("").parts):
            drawing = ("textual", "rich", "cogwright.app.main", "cogwright.app.widgets")
            assert [name for name in imports(path) if inside(name, *drawing)] == [], path


def test_only_plots_import_plotext_and_only_the_app_imports_textual() -> None:
    for path in MODULES:
        home = path.relative_to(SOURCE)
        for name in imports(path):
            assert not inside(name, "plotext") or home == PLOTS, (path, name)
            assert not inside(name, "textual", "rich") or home.parts[0] == "app", (path, name)


def test_a_module_can_be_read_in_one_sitting() -> None:
    for path in MODULES:
        assert len(path.read_text(encoding="utf-8").splitlines()) <= LONGEST, path


#: What runs code out of data, or talks to the world.
HAZARDS = (
    "pickle", "marshal", "shelve", "socket", "urllib", "http", "ssl", "ftplib", "smtplib", "subprocess",
)  # fmt: skip


def test_no_code_runs_from_data() -> None:
    for path in MODULES:
        assert calls(path).isdisjoint({"eval", "exec", "compile", "__import__"}), path
        assert [name for name in imports(path) if inside(name, *HAZARDS)] == [], path


COMMANDS_LOADED = """
import sys
from cogwright.cli import COMMANDS, command_parser
for name in COMMANDS: command_parser(name)
heavy = [m for m in sys.modules if m.split(".")[0] in ("textual", "rich", "plotext")]
print(" ".join(sorted(heavy)))
"""


@pytest.mark.long(cases=0)
def test_declaring_every_command_loads_no_screen_library() -> None:
    argv = [sys.executable, "-c", COMMANDS_LOADED]
    done = subprocess.run(argv, capture_output=True, text=True, check=True, env=environment(), timeout=60)
    assert done.stdout.strip() == ""
