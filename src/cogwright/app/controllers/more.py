"""The other actions: baseline, facts, colours, palette, help, quit."""

import tomllib
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from pydantic import BaseModel

from cogwright.app.actions import ACTIONS, key_name
from cogwright.app.controllers.files import leaving
from cogwright.app.controllers.handlers import HANDLERS, does
from cogwright.app.pickers.content import Choice, Content
from cogwright.app.state.session import Baseline
from cogwright.app.theme import THEMES
from cogwright.core.common.errors import EditRefused, InputError
from cogwright.core.common.numbers import written
from cogwright.core.common.safe_text import clean, pad
from cogwright.core.setup.edits import SetField
from cogwright.core.setup.model import Setup
from cogwright.present.lines import Role, Span, line
from cogwright.present.panels.help import help_lines
from cogwright.store.documents import read_setup
from cogwright.store.problems import problems_in, wanted

if TYPE_CHECKING:
    from cogwright.app.main import BenchApp


#: Stands for a baseline whose path is still to be typed.
_ELSEWHERE: Final = "elsewhere"


@does("quit")
def quit_(app: "BenchApp") -> None:
    """Leave, after asking what becomes of unsaved work."""
    leaving(app, lambda: app.exit(0))


@does("baseline")
def baseline(app: "BenchApp") -> None:
    """Choose what the bench is compared with; each choice shows at once."""
    session = app.session
    choices = [
        _base_choice(Baseline(session.bench, f"{session.bench.name}, as it stood"), "the bench as it stands")
    ]
    if session.document is not None:
        saved = session.document.value
        choices.insert(0, _base_choice(Baseline(saved, f"{saved.name}, as saved"), "this file, as saved"))
    choices += [_base_choice(Baseline(s, s.name), s.name) for s in app.other_setups()]
    choices.append(_base_choice(None, "no baseline"))
    choices.append(Choice((Span("a file elsewhere: type its path"),), _ELSEWHERE))

    def show(chosen: Baseline | str | None) -> None:
        found = session.baseline if isinstance(chosen, str) else chosen
        app.become(replace(app.session, baseline=found))

    def pick(chosen: Baseline | str | None) -> None:
        show(chosen)
        if isinstance(chosen, str):
            _type_baseline(app)
            return
        app.say(f"Baseline: {chosen.name if chosen else 'none'}.")

    app.drawer_open(
        Content(
            "Compare the bench with",
            choices,
            pick=pick,
            move=show,
            leave=lambda: show(session.baseline),
            filter=True,
        )
    )


def _type_baseline(app: "BenchApp") -> None:
    """A baseline from any file, by its path."""

    def typed(text: str) -> str | None:
        try:
            setup = read_setup(Path(text.strip()).expanduser().absolute()).value
        except (InputError, RuntimeError) as error:
            return str(error.problems[0]) if isinstance(error, InputError) else str(error)
        chosen = Baseline(setup, setup.name)
        app.become(replace(app.session, baseline=chosen).say(f"Baseline: {chosen.name}."))
        return None

    app.drawer_open(Content("Path of the setup to compare with", typed=typed))


def _base_choice(chosen: Baseline | None, text: str) -> Choice:
    return Choice((Span(text),), chosen)


@does("edit-fact")
def edit_fact(app: "BenchApp") -> None:
    """Any fact of the file: choose it, then type its value."""
    bench = app.session.bench
    choices = [_fact(key, value) for key, value in facts(bench)]
    app.drawer_open(
        Content("Set a fact", choices, pick=lambda key: _type_fact(app, key), filter=True, height=20)
    )


def facts(section: BaseModel, within: str = "") -> list[tuple[str, Any]]:
    """Every fact with its dotted key, in the order of the file; the format is not one."""
    found: list[tuple[str, Any]] = []
    for name in type(section).model_fields:
        value = getattr(section, name)
        if isinstance(value, BaseModel):
            found += facts(value, f"{within}{name}.")
        elif within or name != "format":
            found.append((within + name, value))
    return found


def _fact(key: str, value: object) -> Choice:
    text = "not given" if value is None else written(value)
    return Choice(line(pad(key, 34), Span(clean(text), Role.DIM if value is None else Role.TEXT)), key)


def _type_fact(app: "BenchApp", key: str) -> None:
    value = dict(facts(app.session.bench))[key]

    def typed(text: str) -> str | None:
        edit = SetField(key, parsed(text, key))
        try:
            app.become(app.session.edit(edit))
        except EditRefused as refusal:
            return f"{_in_words(app.session.bench, edit) or refusal}."
        return None

    takes = wanted(Setup, key) or "text"
    head = [(Span(f" {takes[0].upper()}{takes[1:]}; empty takes the fact out.", Role.DIM),)]
    start = clean(written(value))
    app.drawer_open(Content(f"{key}", head=head, typed=typed, value=start))


def _in_words(bench: Setup, edit: SetField) -> str:
    """Why a value is refused, as a file with it would be told."""
    *tables, last = edit.key.split(".")
    data = bench.model_dump()
    within = data
    for name in tables:
        within = within[name]
    within[last] = edit.value
    found = problems_in(data, Setup, {})
    return f"{found[0].what}; {found[0].mend}" if found else ""


def parsed(text: str, key: str) -> object:
    """A typed value: a TOML number or list where it is one, text otherwise, None for nothing.

    >>> parsed("[11, 13]", "rear.cogs"), parsed("435", "frame.chainstay_mm"), parsed(" ", "chain.links")
    ([11, 13], 435, None)
    """
    text = text.strip()
    if not text:
        return "" if key == "notes" else None
    if key in {"name", "notes", "wheel.size", "baseline"} or key.endswith("family"):
        return text
    try:
        return tomllib.loads(f"value = {text}")["value"]
    except (tomllib.TOMLDecodeError, RecursionError):
        return text


@does("theme")
def theme(app: "BenchApp") -> None:
    """The next set of colours."""
    names = list(THEMES)
    name = names[(names.index(app.skin.name) + 1) % len(names)]
    app.skin = THEMES[name]
    app.say(f"Colours: {name}.")


@does("palette")
def palette(app: "BenchApp") -> None:
    """Every action by name."""
    choices = [
        Choice(
            line(
                pad(action.name, 38),
                Span(pad(" ".join(map(key_name, app.keymap_now[action.id])), 12), Role.KEY),
                Span(action.help, Role.DIM),
            ),
            action.id,
        )
        for action in ACTIONS
        if action.id != "palette"
    ]
    app.drawer_open(
        Content("Find an action", choices, pick=lambda id: HANDLERS[id](app), filter=True, height=20)
    )


@does("help")
def help_(app: "BenchApp") -> None:
    """Keys and words."""
    rows = [(a.group, " ".join(map(key_name, app.keymap_now[a.id])), a.name, a.help) for a in ACTIONS]
    lines = [Choice(each) for each in help_lines(rows, app.look)]
    app.drawer_open(Content("Help", lines, height=99))
