"""What stands over the rows of the Gears view: axis and heads of the columns, and the old gears."""

from cogwright.core.common.words import count
from cogwright.present.chart_style import AxisUnit, BaseMode, ChartKind, NeededDevelopment
from cogwright.present.lines import Line, Role, Span, line
from cogwright.present.views.gears_chart import Chart, several_clicks
from cogwright.present.views.gears_ladder import old_gears


def head_line(of: Chart) -> Line:
    """The axis between the heads of the columns; the cadence stands over its own."""
    unit = "km/h" if of.style.axis is AxisUnit.SPEED else "m"
    label = Span(f" {unit}".ljust(1 + of.room.label), Role.HEAD)
    return line(label, of.axis.head, Span(_columns(of), Role.HEAD))


def _columns(of: Chart) -> str:
    """Heads of the columns behind the bars; a long one runs into the column behind it, which needs none."""
    room = of.room
    text = "m".rjust(room.metres) if room.metres else ""
    text = _speeds(of, text + _steps(of))
    text += "inches".rjust(room.inches) + "ratio".rjust(room.ratio) if room.inches else ""
    text += "  before     m".ljust(room.before) if room.before else ""
    limit = f" limit {of.study.bench.limits.jump_pct:g} %"
    return text + (limit if room.note >= len(limit) else "").ljust(room.note)


def _steps(of: Chart) -> str:
    width = of.room.step + of.room.was
    if not of.room.step:
        return ""
    names = ("same ring %", "ring %") if several_clicks(of.study) else ("step %",)
    return f" {next(name for name in names if len(name) < width)}".ljust(width)


def _speeds(of: Chart, text: str) -> str:
    """The cadence over the column of speeds, running to the left as far as there is a blank."""
    if not of.room.speed:
        return text
    end, rpm = len(text) + of.room.speed, f"{of.rpm:g}"
    free = end - len(text.rstrip()) - 1
    names = (f"km/h at {rpm} rpm", f"km/h, {rpm} rpm", f"km/h@{rpm}", "km/h")
    name = next((name for name in names if len(name) <= free), names[-1])
    return text[: end - len(name)].ljust(end - len(name)) + name


def before_lines(of: Chart) -> list[Line]:
    """Over the ladder a row of the old gears."""
    old = of.study.base_summary
    if of.style.drawing is not ChartKind.LADDER or old is None or of.style.baseline is BaseMode.BENCH:
        return []
    jumps = count(old.standing_out, "jump") if old.standing_out else "no jump"
    label = Span(f" {'before':<{of.room.label}}"[: 1 + of.room.label], Role.BASE)
    return [
        line(label, old_gears(of.study, of.axis), Span(f"   {count(old.gears, 'gear')}, {jumps}", Role.BASE))
    ]


def wanted_lines(of: Chart, wanted: NeededDevelopment | None) -> list[Line]:
    """Over the rows what the line through them stands for."""
    if wanted is None or of.axis.needed is None:
        return []
    label = Span(f" {'needs':<{of.room.label}}"[: 1 + of.room.label], Role.CAUTION)
    said = f"{of.look.glyphs.needed} {wanted.development_m:.2f} m for {wanted.words}"
    return [line(label, " " * of.axis.needed, Span(said, Role.CAUTION))]
