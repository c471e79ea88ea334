"""The figures and notes behind the bar of a row of the Gears view."""

from cogwright.core.common.words import few
from cogwright.core.gears.gears import speed_kmh
from cogwright.core.gears.rollout import RolloutVerdict
from cogwright.present.lines import Role, Span
from cogwright.present.views.gears_chart import ROLES, RowsShare
from cogwright.present.views.gears_rows import ChartRow

#: A note, the fullest way of saying it first, and what it means.
Note = tuple[tuple[str, ...], Role]


def figures_behind(entry: ChartRow, of: RowsShare) -> list[Span]:
    """Development, step, old step, speed, what else there is room for, and notes."""
    room, role, gear = of.room, ROLES[entry.kind], entry.gear
    metres = [Span(f"{gear.development_m:{room.metres}.2f}", role)] if room.metres else []
    if entry.folded:
        return [*metres, Span(_several_lost(entry, of), role)]
    speed = f"{speed_kmh(gear.development_m, of.rpm):{room.speed}.1f}" if room.speed else ""
    return [
        *metres,
        *_step(entry, of),
        _was(entry, of),
        Span(speed, role),
        *_more(entry, of),
        *_note(entry, of),
    ]


def _several_lost(entry: ChartRow, of: RowsShare) -> str:
    """How many gears stand in one row, and which, where there is room for their names."""
    names = [each.label for each in (entry.gear, *entry.folded)]
    said, room = f" {len(names)} lost", of.width - 1 - of.room.label - of.room.bar - of.room.metres
    named = (f"{said}: {few(names, most)}" for most in (3, 2, 1))
    return next((text for text in named if len(text) <= room), said)


def _step(entry: ChartRow, of: RowsShare) -> list[Span]:
    """The ring's own step, with its mark: one where it is wide, two where it is a jump that stands out."""
    step = entry.row.rear_step if entry.row else None
    if step is None or not of.room.step:
        return [Span(" " * of.room.step)]
    glyphs = of.axis.glyphs
    mark, role = "", Role.TEXT
    if step.jump:
        mark, role = (glyphs.jump * 2, Role.JUMP) if step.stands_out else (glyphs.wide, Role.WIDE)
    text = f"{step.step_pct:+.1f}"
    before = max(of.room.step - 2 - len(text), 0)
    return [
        Span(" " * before),
        Span(text + mark, role),
        Span(" " * (of.room.step - before - len(text + mark))),
    ]


def _was(entry: ChartRow, of: RowsShare) -> Span:
    """The old step where it was another."""
    text = "" if entry.was_pct is None else f"was {entry.was_pct:.1f}"
    return Span(f"{text:>{of.room.was}}" if of.room.was else "", Role.BEFORE)


def _more(entry: ChartRow, of: RowsShare) -> list[Span]:
    """Figures that a wide window has room for."""
    room, gear, old, role = of.room, entry.gear, entry.before, ROLES[entry.kind]
    cells = []
    if room.inches:
        cells.append(
            Span(f"{entry.row.gear_inches:{room.inches}.1f}" if entry.row else " " * room.inches, role)
        )
    if room.ratio:
        cells.append(Span(f"{gear.ratio:{room.ratio}.2f}", role))
    said = f"  {old.gear.label:<6}{old.gear.development_m:6.2f}" if old and old.gear != gear else ""
    return [*cells, Span(said.ljust(room.before)[: room.before], Role.BEFORE)]


def _note(entry: ChartRow, of: RowsShare) -> list[Span]:
    """What is to be said of the gear, as far as there is room; the gravest first."""
    spans, left = list[Span](), of.room.note
    for ways, role in notes_of(entry):
        said = next((way for way in ways if len(way) < left), "")
        if said:
            spans += [Span(" "), Span(said, role)]
            left -= 1 + len(said)
    return [*spans, Span(" " * left)]


def notes_of(entry: ChartRow) -> list[Note]:
    """What is to be said of a row's gear, the gravest first."""
    if entry.row is None:
        return [_gone(entry)]
    said: list[Note] = []
    if entry.row.beyond_chain:
        said.append((("do not use", "unsafe"), Role.PROBLEM))
    if entry.row.verdict is RolloutVerdict.FAIL:
        said.append((("over limit", "over"), Role.PROBLEM))
    if entry.row.verdict is RolloutVerdict.TOO_CLOSE:
        said.append((("measure", "?"), Role.CAUTION))
    if entry.same_as is not None:
        label = entry.same_as.label
        said.append(((f"same as {label}", f"same {label}", f"={label}"), Role.OVERLAP))
    if entry.new:
        said.append((("new",), Role.LONGER))
    step = entry.row.rear_step
    if step is not None and step.jump:
        said.append((("jump",), Role.JUMP) if step.stands_out else (("wide",), Role.WIDE))
    return said


def _gone(entry: ChartRow) -> Note:
    role = ROLES[entry.kind]
    if entry.kind == "lost":
        return (("lost",) if entry.felt else ("not missed", "gone")), role
    return (("no near gear", "no near", "none") if entry.kind == "hole" else ("replaced", "gone")), role
