"""What should I change? Asks for the goal and its limits, then searches."""

from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING, Final, cast

from cogwright.app.controllers.handlers import does
from cogwright.app.controllers.parts import choose_bin, load_bin
from cogwright.app.pickers.content import Choice, Content
from cogwright.app.state.wishes import LIMITS, Kind, Limit, first_limits
from cogwright.core.common.numbers import number_in, written
from cogwright.core.common.safe_text import pad
from cogwright.present.lines import Line, Role, Span, clip, line

if TYPE_CHECKING:
    from cogwright.app.controllers.seeker import Other
    from cogwright.app.main import BenchApp
    from cogwright.core.proposing.goal import Goal

_KINDS: Final[tuple[tuple[str, Kind], ...]] = (("e", "even"), ("s", "single"), ("l", "plan"))
_ORDER: Final = [kind for _, kind in _KINDS]
_NO_BIN: Final = "A plan chooses from a parts bin: put one into the folder bins, as the README says."


@does("proposals")
def proposals(app: "BenchApp") -> None:
    """Ask for the goal; Enter repeats the one of the last time."""
    load_bin(app)
    _ask(app, _ORDER.index(app.session.wishes.kind))


def _ask(app: "BenchApp", at: int) -> None:
    """The goals, with what they choose from."""
    answers: dict[str, Callable[[], None]] = {key: _chooser(app, kind) for key, kind in _KINDS}
    app.drawer_open(
        Content(
            "What should I change?",
            _goal_rows(app),
            pick=lambda kind: _choose(app, kind),
            answers=answers | {"p": lambda: _pin(app), "a": lambda: _anything(app)},
            start=at,
            keys=_goal_keys(app),
        )
    )


def _goal_rows(app: "BenchApp") -> list[Choice]:
    bench, stock = app.session.bench, app.session.stock
    cogs, rings = bench.rear.cogs, len(bench.crank.rings)
    out_of = stock.name if stock and not app.session.wishes.anything else "all tooth counts"
    pins = app.session.wishes.pinned(cogs)
    stay = f"; pinned: {' '.join(map(str, pins))}" if pins else ""
    instead = f"in the place of {rings}" if rings > 1 else "another one"
    said = {
        "even": ("even out", f"the steps of {cogs[0]}-{cogs[-1]}, out of {out_of}{stay}"),
        "single": ("single ring", f"{instead}, out of {out_of}"),
        "plan": ("plan", f"within limits, out of {stock.name if stock else 'a parts bin: none is chosen'}"),
    }
    return [
        Choice(line(Span(key, Role.KEY), f"  {pad(said[kind][0], 13)}", Span(said[kind][1], Role.DIM)), kind)
        for key, kind in _KINDS
    ]


def _goal_keys(app: "BenchApp") -> str:
    session, keys = app.session, ["e s l or Enter"]
    if session.cursor.where == "cog":
        pinned = session.cursor.teeth in session.wishes.pins
        keys.append(f"p {'free' if pinned else 'pin'} cog {session.cursor.teeth}")
    if session.stock is not None:
        keys.append("a the bin only" if session.wishes.anything else "a all tooth counts")
    return "   ".join([*keys, "q or Esc back"])


def _wish(app: "BenchApp", **wishes: object) -> None:
    changed = replace(app.session.wishes, **wishes)  # type: ignore[arg-type]
    app.session = replace(app.session, wishes=changed)


def _pin(app: "BenchApp") -> None:
    """Pin the chosen cog, or free it."""
    cursor = app.session.cursor
    if cursor.where == "cog":
        app.session = replace(app.session, wishes=app.session.wishes.toggled(cursor.teeth))
    _ask(app, app.drawer.index)


def _anything(app: "BenchApp") -> None:
    """Out of the bin, or out of all tooth counts."""
    _wish(app, anything=not app.session.wishes.anything)
    _ask(app, app.drawer.index)


def _chooser(app: "BenchApp", kind: Kind) -> Callable[[], None]:
    return lambda: _choose(app, kind)


def _choose(app: "BenchApp", kind: Kind) -> None:
    _wish(app, kind=kind)
    if kind != "plan":
        seek(app)
    elif app.session.stock is not None:
        ask_limits(app)
    else:
        choose_bin(app)
        app.say(_NO_BIN)


# The limits of a plan


def ask_limits(app: "BenchApp", at: int = len(LIMITS)) -> None:
    """The limits, each to be changed, and the row that searches."""
    session = app.session
    base = session.baseline.setup if session.baseline else None
    goal = session.wishes.limits or first_limits(session.bench, base)
    _wish(app, limits=goal)
    rows = [Choice(_limit_line(app, limit, goal), limit) for limit in LIMITS]
    app.drawer_open(
        Content(
            "Plan: the limits",
            [*rows, Choice((Span("search within these limits", Role.KEY),))],
            head=_left_out(app),
            pick=lambda limit: _type_limit(app, limit) if limit else seek(app),
            answers={"l": lambda: seek(app)},
            start=at,
            keys="Up Down move   Enter change, or search   l search   q or Esc back",
        )
    )


def _left_out(app: "BenchApp") -> list[Line]:
    from cogwright.core.proposing.bin_choices import unpriced

    names = unpriced(app.session.stock) if app.session.stock else ()
    text = f" left out for want of a price: {', '.join(names)}"
    return [clip((Span(text, Role.DIM),), app.look.width)] if names else []


def _unit(app: "BenchApp", limit: Limit) -> str:
    return limit.unit or (app.session.stock.currency if app.session.stock else "")


def _limit_line(app: "BenchApp", limit: Limit, goal: "Goal") -> Line:
    value = getattr(goal, limit.field)
    if value is None:
        return line(pad(limit.name, 36), Span("no limit", Role.DIM))
    return line(pad(limit.name, 36), f"{written(value)} {_unit(app, limit)}")


def _type_limit(app: "BenchApp", limit: Limit) -> None:
    """Type one limit; back to all of them."""
    at = LIMITS.index(limit)
    goal = cast("Goal", app.session.wishes.limits)

    def typed(text: str) -> str | None:
        try:
            value = number_in(text, limit.least) if text.strip() else None
        except ValueError:
            return f"Type {limit.asks}, or nothing for no limit."
        _wish(app, limits=replace(goal, **{limit.field: value}))
        ask_limits(app, at)
        return None

    app.drawer_open(
        Content(
            f"{limit.name}, {_unit(app, limit)}",
            head=[(Span(f" {limit.asks[0].upper()}{limit.asks[1:]}; empty for no limit.", Role.DIM),)],
            typed=typed,
            leave=lambda: ask_limits(app, at),
            value=written(getattr(goal, limit.field)),
        )
    )


# The search


def seek(app: "BenchApp") -> None:
    """Search for what the wishes ask, and show the list."""
    from cogwright.app.controllers.searches import search
    from cogwright.app.controllers.seeker import Seeker

    Seeker(app, search(app.session), _other_keys(app)).start()


def _other_keys(app: "BenchApp") -> dict[str, "Other"]:
    from cogwright.app.controllers.seeker import Other

    wishes = app.session.wishes
    if wishes.kind == "plan":
        return {"l": Other("limits", lambda: ask_limits(app))}
    if app.session.stock is None:
        return {}

    def turned() -> None:
        _wish(app, anything=not wishes.anything)
        seek(app)

    return {"a": Other("bin only" if wishes.anything else "all counts", turned)}
