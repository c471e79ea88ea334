"""The rider's figures as a table to edit, with what is usual for each."""

from cogwright.core.common.safe_text import pad
from cogwright.core.riding.rider_fields import RiderField
from cogwright.core.study import Study
from cogwright.present.glyphs import with_signs
from cogwright.present.lines import Line, Look, Role, Span, clip, line, spread, told


def rider_row(study: Study, field: RiderField, look: Look) -> Line:
    """A field's line of the table."""
    value = field.value(study.bench)
    label = min(27, max(look.width - 13, 0))
    unit = with_signs(f" {field.unit:<4}", look.glyphs)
    left = line(Span(f"{pad(field.label, label)}{_shown(field, value):>8}{unit}"))
    if look.width < 60:
        return clip(left, look.width)
    return spread(left, (Span(_says(study, field), Role.DIM),), look.width)


def _shown(field: RiderField, value: float) -> str:
    return f"{value:.{field.digits}f}"


def _says(study: Study, field: RiderField) -> str:
    choice = field.usual_now(study.bench)
    said = [choice.label] if choice else []
    if field.given(study.bench) in {None, field.default} and "default" not in said:
        said.append("default")
    return ", ".join(said) + " "


def usual_lines(study: Study, field: RiderField, look: Look) -> list[Line]:
    """What is usual for a field, with the source; where nothing is, how far one step goes."""
    if not field.usual:
        return told(with_signs(f"one step is {field.step:g} {field.unit}", look.glyphs), look.width, Role.DIM)
    now = field.usual_now(study.bench)
    rows: list[Line] = []
    for choice in field.usual:
        sign = look.glyphs.tick if choice == now else " "
        rows.append(
            (Span(f"   {sign} {_shown(field, choice.value)}  {choice.label} ({choice.source})", Role.DIM),)
        )
    return rows
