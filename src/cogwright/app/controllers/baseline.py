"""What the bench is compared with: chosen from a list, each shown at once, or any file by its path."""

from pathlib import Path
from typing import Final

from cogwright.app.controllers.asking import read_problems
from cogwright.app.controllers.registry import does
from cogwright.app.controllers.shelf import other_setups
from cogwright.app.controllers.walking import Walk, walk
from cogwright.app.pickers.scene import Scene, each
from cogwright.app.state.opened import ListKind, PickList
from cogwright.app.state.session import Session
from cogwright.app.state.store import SessionStore
from cogwright.app.state.work import Baseline
from cogwright.core.common.errors import CogwrightError, InputError
from cogwright.present.lines import Line, Span
from cogwright.store.documents import read_setup
from cogwright.store.saving import first_of, real_path

#: A row of the list: what it says, and the baseline that it stands for; `ELSEWHERE` for one by its path.
BaselineRow = tuple[str, Baseline | str | None]
_ELSEWHERE: Final = "elsewhere"


@does("baseline")
def baseline(store: SessionStore) -> None:
    """Choose what the bench is compared with."""
    others = [(s.name, Baseline(s, s.name, path, chosen=True)) for path, s in other_setups(store)]
    last: list[BaselineRow] = [("no baseline", None), ("a file elsewhere", _ELSEWHERE)]
    rows, now = (*_own(store.session), *others, *last), store.session.baseline
    here = next((at for at, row in enumerate(rows) if row[1] == now), 0)
    store.open(PickList(BASELINES, "Compare the bench with", rows, now, at=here))


def _own(session: Session) -> list[BaselineRow]:
    """The bench as it is saved, and as it stands."""
    now = Baseline(session.bench, f"{session.bench.name}, as it stood")
    rows: list[BaselineRow] = [("the bench as it stands", now)]
    if session.document is not None:
        saved = session.document.value
        path = session.document.path
        rows.insert(0, ("this file, as saved", Baseline(saved, f"{saved.name}, as saved", path)))
        rows[1:1] = _came_in(path)
    return rows


def _came_in(path: Path) -> list[BaselineRow]:
    """The very first version of the bench's file, where one is kept."""
    try:
        first = read_setup(first_of(real_path(path))).value
    except CogwrightError:
        return []
    return [("this file, as it came in", Baseline(first, f"{first.name}, as it came in"))]


def _line(row: BaselineRow, _: Scene) -> Line:
    return (Span(row[0]),)


def _words(row: BaselineRow) -> str:
    return row[0]


def _show(store: SessionStore, row: BaselineRow, before: Baseline | None) -> None:
    chosen = before if isinstance(row[1], str) else row[1]
    store.replace(store.session.working(baseline=chosen))


def _take(store: SessionStore, row: BaselineRow, before: Baseline | None) -> None:
    _show(store, row, before)
    chosen = row[1]
    if isinstance(chosen, str):
        walk(store, "The setup to compare with", Walk(store.session.folder, (".toml",), _take_path))
    else:
        kept = "; s keeps it in the file" if chosen and chosen.chosen and store.session.unsaved else ""
        store.say(f"Baseline: {chosen.name if chosen else 'none'}{kept}.")


def _leave(store: SessionStore, before: Baseline | None) -> None:
    store.replace(store.session.working(baseline=before))


def _take_path(store: SessionStore, path: Path) -> None:
    try:
        setup = read_setup(path).value
    except InputError as error:
        read_problems(store, path, error.problems)
        return
    chosen = Baseline(setup, setup.name, path.absolute(), chosen=True)
    store.replace(store.session.working(baseline=chosen).say(f"Baseline: {chosen.name}."))


BASELINES: Final = ListKind(each(_line), _take, _show, _leave, _words)
