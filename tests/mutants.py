"""Would the tests notice? Changes one thing at a time in the program and sees whether a test fails.

    .venv/bin/python tests/mutants.py                                100 mutants of core and store, a new seed
    .venv/bin/python tests/mutants.py core present --sample 300 --seed 7

A mutant is one comparison, sign, number, condition, call or result of the source changed into another. Each
is judged in a copy of the tree by the tests that run its line (found by coverage), and what survives by those
that coverage does not see: of the app, and of processes of their own. Texts are not mutated: their wording is
a matter of taste, and tests hold what counts. Each is named as soon as it is judged, with how many are left,
survivors as diffs; then comes a table. A survivor is a missing test, or a change that changes nothing.
"""

import argparse
import json
import os
import random
import re
import shutil
import signal
import sys
import tempfile
import time
from collections import Counter, defaultdict
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import coverage
import pytest

from mutating import ROOT, Mutant, mutants_of

COPIED = ("README.md", "DEVELOPERS.md", "pyproject.toml", "src", "setups", "tests")
#: What takes long to import and is none of ours: each judge starts from a process that has it already.
LIBRARIES = ("hypothesis", "networkx", "numpy", "pydantic", "pytest_asyncio", "scipy.optimize", "textual.app")
#: Where tests stand that run the program in a process of its own, or the app, which takes long to map.
UNSEEN = ["tests/house", "tests/commands", "tests/store", "tests/app"]
#: So many tests judge first.
FEW = 25
#: Before them, of the tests that killed others of the same file the last ones.
KILLERS = 3
OPTIONS = ("-q", "-x", "--no-header", "-p", "no:cacheprovider", "-p", "no:randomly")


def forked(work: Any, limit_s: float, log: Path | None = None) -> int | None:
    """The exit status of `work()` in a process of its own; None if it was ended, negative for a signal."""
    pid = os.fork()
    if pid == 0:
        os.setsid()
        handle = os.open(log or os.devnull, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
        os.dup2(handle, 1)
        os.dup2(handle, 2)
        os._exit(int(work()))
    end = time.monotonic() + limit_s
    while time.monotonic() < end:
        done, status = os.waitpid(pid, os.WNOHANG)
        if done:
            return os.waitstatus_to_exitcode(status)
        time.sleep(0.02)
    os.killpg(pid, signal.SIGKILL)
    os.waitpid(pid, 0)
    return None


class Copy:
    """A copy of the tree in which mutants live, one after the other, and the tests run."""

    def __init__(self, beside: Path) -> None:
        self.beside, self.folder = beside, beside / "tree"
        self._time = int(time.time()) - 10**7
        self.folder.mkdir(parents=True)
        for name in COPIED:
            source = ROOT / name
            if source.is_dir():
                shutil.copytree(source, self.folder / name, ignore=shutil.ignore_patterns("__pycache__"))
            else:
                shutil.copy(source, self.folder / name)

    def enter(self) -> None:
        """Make this process one that runs the copy's tests; it has not imported the program yet."""
        os.chdir(self.folder)
        os.environ["CI"] = "1"  # Hypothesis tries the same each time
        sys.path[:0] = [str(self.folder / "src"), str(self.folder / "tests")]
        del sys.modules["mutating"]  # the copy has its own

    def tested(self, tests: list[str], limit_s: float, *plugins: object) -> int | None:
        """pytest's exit status for these tests."""

        def work() -> int:
            self.enter()
            return int(pytest.main([*OPTIONS, *tests], plugins=list(plugins)))

        return forked(work, limit_s, self.beside / "log")

    def put(self, file: Path, data: bytes) -> None:
        """Write a file so that nothing compiled from an earlier version is taken for it."""
        self._time += 2
        (self.folder / file).write_bytes(data)
        os.utime(self.folder / file, (self._time, self._time))


class Contexts:
    """A plugin for pytest: names the running test to coverage, and times it."""

    def __init__(self, seen: coverage.Coverage, times: Path) -> None:
        self.seen, self.times = seen, times

    @pytest.hookimpl(hookwrapper=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> Iterator[None]:
        """Around one test."""
        self.seen.switch_context(item.nodeid)
        yield
        self.seen.switch_context("")

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        """How long it took, and whether it holds without a mutant."""
        if report.when == "call":
            with self.times.open("a") as file:
                print(json.dumps([report.nodeid, report.duration, report.passed]), file=file)


class Outcomes:
    """A plugin for pytest: notes which tests fail."""

    def __init__(self, path: Path) -> None:
        self.path = path

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        """One line a failure, at whatever stage."""
        if report.failed:
            with self.path.open("a") as file:
                print(report.nodeid, file=file)


def failing(copy: Copy) -> list[str]:
    """Tests of the second judgement that fail without a mutant, as in a copy some do: they judge nothing."""
    path = copy.beside / "failing"
    path.touch()

    def work() -> int:
        copy.enter()
        return int(pytest.main([*OPTIONS, "--maxfail=100", *UNSEEN], plugins=[Outcomes(path)]))

    forked(work, 3600, copy.beside / "log")
    return sorted(set(path.read_text().splitlines()))


class TestMap:
    """Which tests run which line, quickest first. The app's own tests are left to the second judgement."""

    __test__ = False

    def __init__(self, copy: Copy) -> None:
        data, times = copy.beside / "coverage", copy.beside / "times"
        seen = coverage.Coverage(data_file=str(data), source=[str(copy.folder / "src")], config_file=False)

        def work() -> int:
            copy.enter()
            seen.start()
            options = ["-q", "-p", "no:cacheprovider", "--ignore=tests/app", "tests"]
            status = pytest.main(options, plugins=[Contexts(seen, times)])
            seen.stop()
            seen.save()
            return int(status)

        self.status = forked(work, 3600, copy.beside / "log")
        if not times.exists():
            raise SystemExit((copy.beside / "log").read_text())
        lines = [json.loads(line) for line in times.read_text().splitlines()]
        self._times = {name: took for name, took, passed in lines if passed}
        self._data = coverage.CoverageData(str(data))
        self._data.read()
        self._folder = copy.folder

    def __str__(self) -> str:
        return f"{len(self._times)} pass without a mutant, exit status {self.status}"

    def tests(self, mutant: Mutant) -> list[str]:
        """Those that run the line; where importing runs it, those that run anything of the file."""
        by_line = self._data.contexts_by_lineno(str(self._folder / mutant.file))
        found = set(by_line.get(mutant.line, ()))
        if not found - {""}:
            found = {name for names in by_line.values() for name in names} if "" in found else set()
        return sorted((name for name in found if name in self._times), key=lambda name: self._times[name])


def verdict(status: int | None) -> str:
    """What an exit status of pytest says of a mutant. 5: there was no test to run."""
    return "hung" if status is None else "survived" if status in (0, 5) else "killed"


def in_turn(mutant: Mutant, tests: list[str], killers: list[str]) -> list[list[str]]:
    """The tests that run its line: what killed its like; the quickest few; those of its folder; the rest."""
    first = [name for name in reversed(killers) if name in tests][:KILLERS]
    others = [name for name in tests if name not in first]
    beside = "/".join(("tests", *mutant.file.parts[2:-1], ""))
    own = [name for name in others[FEW:] if name.startswith(beside)]
    return [first, others[:FEW], own, [name for name in others[FEW:] if name not in own]]


def killer(log: Path) -> list[str]:
    """The test that failed, by what pytest wrote of it."""
    return re.findall(r"^FAILED (\S+)", log.read_text(errors="replace"), re.MULTILINE)[:1]


def first_judgement(copy: Copy, turns: list[list[str]], limit_s: float) -> int | None:
    """The exit status of the tests that run the line, up to those of which one fails."""
    status: int | None = pytest.ExitCode.NO_TESTS_COLLECTED
    for some in turns:
        if some and verdict(status) == "survived":
            status = copy.tested(some, limit_s)
            if status == pytest.ExitCode.USAGE_ERROR:  # it renamed a test: those of the same files serve
                status = copy.tested(sorted({name.split("::")[0] for name in some}), limit_s)
    return status


def judge(mutant: Mutant, copy: Copy, turns: list[list[str]], unseen: list[str], limit_s: float) -> str:
    """killed, hung (which a test would notice) or survived."""
    copy.put(mutant.file, mutant.applied())
    try:
        status = first_judgement(copy, turns if unseen else turns[:3], limit_s)
        if verdict(status) == "survived" and unseen:
            status = copy.tested(unseen, 10 * limit_s)
        return verdict(status)
    finally:
        copy.put(mutant.file, mutant.source)


def judged(sample: list[Mutant], copies: list[Copy], seen: TestMap, args: argparse.Namespace) -> list[str]:
    """A verdict for each, worked out side by side, one process a copy."""
    tests = [seen.tests(mutant) for mutant in sample]
    unseen = [] if args.quick else [*UNSEEN, *(f"--deselect={name}" for name in failing(copies[0]))]
    started = []
    for number, copy in enumerate(copies):
        if (pid := os.fork()) == 0:
            killers = defaultdict[Path, list[str]](list)
            with (copy.beside / "verdicts").open("w") as file:
                for at in range(number, len(sample), len(copies)):
                    known = killers[sample[at].file]
                    turns = in_turn(sample[at], tests[at], known)
                    said = judge(sample[at], copy, turns, unseen, args.limit)
                    known += killer(copy.beside / "log") if said == "killed" else []
                    print(json.dumps([at, said]), file=file, flush=True)
                    shown = sample[at].diff() if said == "survived" else f"{said} {sample[at].place()}"
                    print(f"{len(sample) - at} {shown}", flush=True)
            os._exit(0)
        started.append(pid)
    for pid in started:
        os.waitpid(pid, 0)
    lines = [line for copy in copies for line in (copy.beside / "verdicts").read_text().splitlines()]
    return [said for _, said in sorted(json.loads(line) for line in lines)]


def all_mutants(root: Path, folders: list[str]) -> list[Mutant]:
    """Every mutant of these folders of the program."""
    files = [path for folder in folders for path in (root / "src/cogwright" / folder).rglob("*.py")]
    return [m for path in sorted(files) for m in mutants_of(path.relative_to(root), path.read_bytes())]


def table(sample: list[Mutant], verdicts: list[str]) -> str:
    """How many of each folder were killed and how many survived."""
    folders = ["/".join(mutant.file.parts[2:4]) for mutant in sample]
    counted = Counter(zip(folders, verdicts, strict=True))
    rows = [f"{'':<20}{'tried':>8}{'killed':>8}{'hung':>8}{'survived':>10}"]
    for name in [*sorted(set(folders)), "all"]:
        of = [counted[folder, said] for said in ("killed", "hung", "survived") for folder in [name]]
        if name == "all":
            of = [verdicts.count(said) for said in ("killed", "hung", "survived")]
        rows.append(f"{name:<20}{sum(of):>8}{of[0]:>8}{of[1]:>8}{of[2]:>10}")
    rows.append(f"{100 * verdicts.count('survived') / max(1, len(verdicts)):.1f} % survived")
    return "\n".join(rows)


def arguments(argv: list[str]) -> argparse.Namespace:
    """The command line."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawTextHelpFormatter)
    parser.add_argument("folders", nargs="*", default=["core", "store"], help="of src/cogwright")
    parser.add_argument("--sample", type=int, default=100, metavar="N", help="how many mutants (default 100)")
    parser.add_argument("--seed", type=int, default=random.randrange(10**6), help="the same sample again")
    parser.add_argument("--jobs", type=int, default=2, help="how many at a time (default 2)")
    parser.add_argument("--limit", type=float, default=120, metavar="S", help="time for one mutant's tests")
    parser.add_argument(
        "--quick", action="store_true", help="no test judges a survivor but the few and its folder's"
    )
    return parser.parse_args(argv)


def main(argv: list[str]) -> int:
    """Judge a sample; exit status 1 where more than a tenth survive."""
    args = arguments(argv)
    for name in LIBRARIES:
        __import__(name)
    with tempfile.TemporaryDirectory() as name:
        copies = [Copy(Path(name) / str(number)) for number in range(args.jobs)]
        everything = all_mutants(copies[0].folder, args.folders)  # the tree itself may be worked on meanwhile
        sample = random.Random(args.seed).sample(everything, min(args.sample, len(everything)))
        print(f"{len(sample)} of {len(everything)} mutants of {' '.join(args.folders)}, seed {args.seed}")
        seen = TestMap(copies[0])
        print(f"tests mapped: {seen}", flush=True)
        verdicts = judged(sample, copies, seen, args)
    print(table(sample, verdicts))
    return int(verdicts.count("survived") > len(verdicts) / 10)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
