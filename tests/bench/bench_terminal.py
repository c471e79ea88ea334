"""Speed and bytes in a pseudo-terminal, beside a bare Textual app in the same run.

    .venv/bin/python tests/bench/bench_terminal.py [--json FILE] [--starts 7] [--keys 60]

Starts alternate, and so does every key: all programs are open side by side and each in turn gets one, so that
a busy machine slows all of them; the ratios are what to look at. Times are to the last byte that a key draws.
It measures the `cogwright` beside this Python, else the source tree. An editor and a pager stand beside it
where they are installed, for what is usual in a terminal: their first frame and memory.
"""

import argparse
import json
import os
import re
import shutil
import statistics
import sys
import tempfile
import time
from collections.abc import Sequence
from contextlib import ExitStack
from dataclasses import asdict, dataclass, field
from pathlib import Path
from shutil import which

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT / "tests"))

from ptyterm import Emulator, Term  # noqa: E402 - the tests' folder is put on the path first

SIZES = ((24, 80), (36, 120))
LEFT, RIGHT, UP, DOWN = "\x1b[D", "\x1b[C", "\x1b[A", "\x1b[B"
QUIET_S = 0.08
IDLE_S = 3.0
FILES = 1000
#: Programs that show a file in a whole screen.
PEERS = ("vi", "less")


@dataclass(frozen=True)
class Program:
    """What to start, the text of its first frame, the text of its whole frame, and keys in turn."""

    name: str
    argv: tuple[str, ...]
    ready: str
    whole: str
    keys: dict[str, tuple[str, ...]] = field(default_factory=dict)
    #: Typed before the keys that bear this name.
    before: dict[str, str] = field(default_factory=dict)


@dataclass
class Figures:
    """What was measured of a program at one size; ms, bytes, MB and %."""

    program: str
    rows: int
    cols: int
    first_ms: float = 0.0
    whole_ms: float = 0.0
    first_bytes: int = 0
    idle_bytes: int = 0
    idle_cpu_pct: float = 0.0
    memory_mb: float = 0.0
    keys: dict[str, dict[str, float]] = field(default_factory=dict)


def installed() -> tuple[str, ...]:
    """The command line of cogwright."""
    script = Path(sys.executable).with_name("cogwright")
    return (str(script),) if script.exists() else (sys.executable, "-m", "cogwright")


def environment(home: str) -> dict[str, str]:
    """Settings and drafts in a folder of their own; the source tree only where nothing is installed."""
    own = {"XDG_CONFIG_HOME": home, "XDG_STATE_HOME": home, "XDG_CACHE_HOME": home, "XDG_DATA_HOME": home}
    if not Path(sys.executable).with_name("cogwright").exists():
        own["PYTHONPATH"] = os.environ.get("PYTHONPATH", str(ROOT / "src"))
    return own


def programs(folder: Path, many: Path) -> list[Program]:
    """The bare app; a 2x11 with a baseline; a folder of many setups."""
    bare = (sys.executable, str(Path(__file__).with_name("bare_app.py")))
    bench, base = folder / "yard-7-pass.toml", folder / "yard-1-two-rings.toml"
    moves = {"cursor": (LEFT, RIGHT), "teeth": (UP, DOWN)}
    changes = moves | {"ring": (UP, DOWN), "alarm": (UP, DOWN)}
    first = {"teeth": LEFT * 5, "ring": "\t", "alarm": "\t" + RIGHT * 12}
    shelf = moves | {"shelf": ("o", "\x1b"), "figures": ("2", "1")}
    found = [
        Program("bare", bare, "ready 0", "ready 0", {"cursor": ("j", "j"), "teeth": ("j", "j")}),
        Program(
            "2x11", (*installed(), str(bench), "--baseline", str(base)), "34x28", "34x28", changes, first
        ),
        Program("1,000 files", (*installed(), str(many)), "km/h", "km/h", shelf),
    ]
    return found + [Program(name, (name, str(bench)), "format", "format") for name in PEERS if which(name)]


def many_setups(folder: Path, source: Path) -> None:
    """A thousand setups that differ in name and ring, made from the demo."""
    texts = [path.read_text(encoding="utf-8") for path in sorted(source.glob("*.toml"))]
    for i in range(FILES):
        text = texts[i % len(texts)].replace('name = "', f'name = "{i:04d} ', 1)
        kept = [row for row in text.split("\n") if not row.startswith("baseline")]
        (folder / f"bike-{i:04d}.toml").write_text("\n".join(kept), encoding="utf-8")


def shown_ms(term: Term, text: str) -> tuple[float, int]:
    """When, since the start, a text first stood on the screen (ms), and the bytes until then: a replay."""
    replay, total = Emulator(term.rows, term.cols), 0
    for at, part in term.chunks:
        replay.feed(part)
        total += len(part)
        if text in replay.text:
            return 1e3 * (at - term.started), total
    raise TimeoutError(f"{text!r} was never on the screen:\n{term.text}")


def started(program: Program, rows: int, cols: int, home: str) -> Term:
    """The program, started and quiet; nothing is left of what an earlier start did not save."""
    term = Term(program.argv, rows, cols, environment(tempfile.mkdtemp(dir=home)))
    end = time.perf_counter() + 20
    while program.whole not in term.text and time.perf_counter() < end:
        term.read(quiet=0.3, limit=2)
    term.read(quiet=0.3, limit=0.4)
    return term


def start_figures(program: Program, rows: int, cols: int, home: str) -> tuple[float, float, int]:
    """One start: ms to the first frame, ms to the whole frame, bytes of the first frame."""
    with started(program, rows, cols, home) as term:
        first, size = shown_ms(term, program.ready)
        return first, shown_ms(term, program.whole)[0], size


def press(term: Term, key: str) -> tuple[float, int]:
    """One key: ms to the last byte that it draws, and the bytes."""
    begun = time.perf_counter()
    drawn = term.press(key, quiet=QUIET_S, limit=3.0)
    return (1e3 * (term.chunks[-1][0] - begun) if drawn else 0.0), len(drawn)


def prepared(program: Program, term: Term, name: str) -> None:
    """Type what comes before the keys of a name."""
    for key in re.findall(r"\x1b\[\w|.", program.before.get(name, ""), re.DOTALL):
        press(term, key)


def key_rounds(running: Sequence[tuple[Program, Term]], name: str, times: int) -> list[dict[str, float]]:
    """The keys of a name, one for each program in turn; the first two warm caches and do not count."""
    for program, term in running:
        prepared(program, term, name)
    rounds = [
        [press(term, program.keys[name][at % len(program.keys[name])]) for program, term in running]
        for at in range(times + 2)
    ]
    return [percentiles(found) for found in zip(*rounds[2:], strict=True)]


def percentiles(found: Sequence[tuple[float, int]]) -> dict[str, float]:
    """Of times and bytes, each press one pair."""
    ms, size = sorted(t for t, _ in found), sorted(b for _, b in found)
    return {
        "p50_ms": statistics.median(ms),
        "p95_ms": ms[min(int(0.95 * len(ms)), len(ms) - 1)],
        "p50_bytes": statistics.median(size),
        "max_bytes": size[-1],
    }


def idle(term: Term) -> tuple[int, float]:
    """Bytes drawn and % of one processor used while nothing is typed."""
    term.read(quiet=0.5, limit=1.0)
    before, cpu = len(term.output), term.cpu_s()
    term.read(quiet=IDLE_S, limit=IDLE_S)
    return len(term.output) - before, 100 * (term.cpu_s() - cpu) / IDLE_S


def measured(chosen: Sequence[Program], rows: int, cols: int, home: str, keys: int) -> list[Figures]:
    """All but the starts, of all programs side by side."""
    with ExitStack() as open_ones:
        terms = [open_ones.enter_context(started(program, rows, cols, home)) for program in chosen]
        found = [Figures(program.name, rows, cols) for program in chosen]
        for name in dict.fromkeys(name for program in chosen for name in program.keys):
            ones = [at for at, program in enumerate(chosen) if name in program.keys]
            times = keys if name in {"cursor", "teeth"} else 6
            rounds = key_rounds([(chosen[at], terms[at]) for at in ones], name, times)
            for at, figures in zip(ones, rounds, strict=True):
                found[at].keys[name] = figures
        for figures, term in zip(found, terms, strict=True):
            figures.idle_bytes, figures.idle_cpu_pct = idle(term)
            figures.memory_mb = term.memory_mb()
    return found


def all_figures(folder: Path, starts: int, keys: int) -> list[Figures]:
    """Every program at every size; starts of the programs alternate."""
    home, many = str(folder / "home"), folder / "many"
    shutil.copytree(ROOT / "setups", folder / "setups")
    many.mkdir()
    Path(home).mkdir()
    many_setups(many, folder / "setups")
    chosen = programs(folder / "setups", many)
    for program in chosen:
        start_figures(program, *SIZES[0], home)  # writes bytecode and fills the disk's cache
    found = []
    for rows, cols in SIZES:
        rounds = [[start_figures(p, rows, cols, home) for p in chosen] for _ in range(starts)]
        for at, figures in enumerate(measured(chosen, rows, cols, home, keys)):
            first, whole, size = zip(*(one[at] for one in rounds), strict=True)
            figures.first_ms, figures.whole_ms = statistics.median(first), statistics.median(whole)
            figures.first_bytes = int(statistics.median(size))
            found.append(figures)
    return found


#: What is aimed for: label, limit in words, whether it holds of (cogwright, bare).
AIMS = {
    "first frame": ("1.9 x bare", lambda c, b: c.first_ms <= 1.9 * b.first_ms),
    "teeth p95": ("16 ms", lambda c, _: c.keys["teeth"]["p95_ms"] <= 16.0 or c.cols > 80),
    "teeth bytes": ("2,000", lambda c, _: c.keys["teeth"]["max_bytes"] <= 2000),
    "ring bytes": ("2,000", lambda c, _: c.keys.get("ring", c.keys["teeth"])["max_bytes"] <= 2000),
    "cursor bytes": ("300", lambda c, _: c.keys["cursor"]["max_bytes"] <= 300),
    "idle bytes": ("0", lambda c, _: c.idle_bytes == 0),
    "shelf opens": ("1,000 ms", lambda c, _: c.keys.get("shelf", {}).get("p95_ms", 0.0) <= 1000.0),
}
HEAD = (
    "size    program       first frame      whole  idle B  idle CPU   memory"
    "   cursor p50 / p95             bytes    teeth p50 / p95             bytes"
)


def table(found: Sequence[Figures]) -> list[str]:
    """One row a program and size; ratios to the bare app of that size in brackets, of p50 and of p95."""
    rows = [HEAD]
    for f in found:
        bare = next(b for b in found if (b.program, b.cols) == ("bare", f.cols))
        rows.append(
            f"{f.cols}x{f.rows:<4} {f.program:<12} {f.first_ms:5.0f} ms [{f.first_ms / bare.first_ms:3.1f}]"
            f" {f.whole_ms:6.0f} ms {f.idle_bytes:6} {f.idle_cpu_pct:7.1f} % {f.memory_mb:5.0f} MB"
            + "".join(key_columns(f.keys[name], bare.keys[name]) for name in bare.keys if name in f.keys)
        )
    return rows


def key_columns(k: dict[str, float], bare: dict[str, float]) -> str:
    """Percentiles with their ratios to the bare app's, and the bytes."""
    p50, p95 = (k[name] / bare[name] for name in ("p50_ms", "p95_ms"))
    return f"  {k['p50_ms']:5.1f} / {k['p95_ms']:5.1f} ms [{p50:3.1f} / {p95:3.1f}] {k['p50_bytes']:5.0f}"


def more(found: Sequence[Figures]) -> list[str]:
    """The keys beyond cursor and teeth, and how the aims are met."""
    rows = [""]
    for f in found:
        for name in sorted(f.keys.keys() - {"cursor", "teeth"}):
            k = f.keys[name]
            figure = f"p50 {k['p50_ms']:.0f} ms, at most {k['max_bytes']:.0f} bytes"
            rows.append(f"{f.cols}x{f.rows} {f.program}: {name} {figure}")
        if f.program not in {"bare", *PEERS}:
            bare = next(b for b in found if (b.program, b.cols) == ("bare", f.cols))
            missed = [f"{name} ({aim})" for name, (aim, holds) in AIMS.items() if not holds(f, bare)]
            rows.append(f"{f.cols}x{f.rows} {f.program}: aims missed: {', '.join(missed) or 'none'}")
    return rows


def main(argv: Sequence[str] | None = None) -> int:
    """Measure, print the table, write the JSON."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--json", type=Path)
    parser.add_argument("--starts", type=int, default=7)
    parser.add_argument("--keys", type=int, default=60)
    args = parser.parse_args(argv)
    with tempfile.TemporaryDirectory() as folder:
        found = all_figures(Path(folder), args.starts, args.keys)
    print("\n".join([*table(found), *more(found)]))
    if args.json:
        args.json.write_text(json.dumps([asdict(f) for f in found], indent=2) + "\n", encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
