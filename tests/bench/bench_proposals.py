"""Searching: the exact even-out and the plan, beside brute force in the same run.

    .venv/bin/python tests/bench/bench_proposals.py [--json FILE] [--sample 1500]

Brute force over all of 9-52 in 12 cogs, or over all kits of a bin, would take hours: it is timed over a
sample, and its time for all is the sample's, scaled up. Seconds are those of the processor, of one core. The
small even-out case and the plan out of a small bin are done in full by both, and the results are compared.
"""

import argparse
import json
import math
import random
import sys
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import asdict, dataclass
from itertools import combinations, islice, pairwise
from pathlib import Path

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT / "src"), str(ROOT / "tests"), str(ROOT / "tests" / "core" / "proposing")]

from test_plan import aims, random_bike, random_bin  # noqa: E402

from brute_kits import every_kit, front_of  # noqa: E402
from cogwright.core.parts.bin import Bin  # noqa: E402 - the source tree is put on the path first
from cogwright.core.proposing.goal import Goal  # noqa: E402
from cogwright.core.proposing.kit import Kit, RingSet, Variant  # noqa: E402
from cogwright.core.proposing.ladder import CassettePiece, Ladder, most_even  # noqa: E402
from cogwright.core.proposing.options import options_for  # noqa: E402
from cogwright.core.proposing.plan import Plan  # noqa: E402
from cogwright.core.proposing.space import ring_sets, variants  # noqa: E402
from cogwright.core.setup.model import Setup  # noqa: E402
from cogwright.core.study import study  # noqa: E402
from cogwright.core.worksheet.build import order_sheet  # noqa: E402

SETUP = {
    "name": "Yard 7 tourer",
    "wheel": {"rollout_mm": 2189},
    "crank": {"rings": (30, 46), "bolt_circle_mm": 94, "chainline_mm": 45},
    "rear": {"cogs": (11, 13, 15, 18, 21, 24, 28, 32), "clicks": 8, "smallest_cog": 11, "family": "eight"},
    "rear_derailleur": {"largest_cog": 34, "smallest_cog": 11, "capacity": 37, "family": "eight"},
    "shifters": {"family": "eight"},
    "front_derailleur": {"largest_ring": 48, "difference": 16},
    "frame": {"chainstay_mm": 435},
    "chain": {"links": 110, "outer_width_mm": 7.2},
}


@dataclass(frozen=True)
class Row:
    """One case: candidates, seconds of ours and of brute force, and the longest time that a step took."""

    case: str
    candidates: int
    ours_s: float
    brute_s: float
    scaled: bool
    found: str
    longest_step_ms: float = 0.0

    @property
    def ratio(self) -> float:
        """How many times faster than brute force."""
        return self.brute_s / self.ours_s


def timed(job: Callable[[], Ladder | None]) -> tuple[float, Ladder | None]:
    """Seconds that a search takes, best of three, and its result."""
    best = math.inf
    for _ in range(3):
        start = time.process_time()
        result = job()
        best = min(best, time.process_time() - start)
    return best, result


def ladders(low: int, high: int, count: int) -> Iterator[tuple[int, ...]]:
    """Every cassette of these ends and this number of cogs."""
    return ((low, *inner, high) for inner in combinations(range(low + 1, high), count - 2))


def judge(cogs: Sequence[int]) -> tuple[float, float]:
    """Largest step, sum of squares of the logs: as brute force must judge each cassette."""
    steps = [b / a for a, b in pairwise(cogs)]
    return max(steps), round(sum(math.log(step) ** 2 for step in steps), 12)


def even_case(low: int, high: int, count: int, sample: int | None) -> Row:
    """One even-out; brute force over all cassettes, or over a sample of them."""
    ours_s, ladder = timed(
        lambda: most_even([CassettePiece((n,)) for n in range(low, high + 1)], (low, high), count)
    )
    assert ladder is not None
    every = math.comb(high - low - 1, count - 2)
    start = time.process_time()
    best = min(islice(ladders(low, high, count), sample), key=judge)
    brute_s = time.process_time() - start
    if sample is None or sample >= every:
        assert judge(best) == judge(ladder.cogs), (best, ladder.cogs)
        return Row(
            f"even {count} of {low}-{high}", every, ours_s, brute_s, False, " ".join(map(str, ladder.cogs))
        )
    brute_s *= every / sample
    return Row(f"even {count} of {low}-{high}", every, ours_s, brute_s, True, " ".join(map(str, ladder.cogs)))


def big_bin() -> Bin:
    """A well-filled invented bin: cassettes of eight cogs, and of nine with their shifter and chain."""
    rng = random.Random(1)

    def cassette(low: int, high: int, count: int, family: str) -> dict[str, object]:
        cogs = [low, *sorted(rng.sample(range(low + 1, high), count - 2)), high]
        name = f"cassette {low}-{high}, {count} cogs"
        return {"name": name, "cogs": cogs, "family": family, "price": 20.0 + high, "count": 1}

    def part(name: str, price: float, **facts: object) -> dict[str, object]:
        return {"name": name, "price": price, "count": 1, **facts}

    eights = [cassette(rng.choice((11, 12)), n, 8, "eight") for n in (25, 28, 30, 32, 34, 36)]
    nines = [cassette(rng.choice((11, 12)), n, 9, "nine") for n in (28, 32, 36, 40)]
    limits = ((42, 47, "eight", 40.0), (36, 45, "eight", 28.0), (42, 47, "nine", 46.0))
    return Bin.model_validate(
        {
            "name": "well-filled",
            "rings": [
                part(f"ring {n}", 20.0 + n / 10, teeth=n, bolt_circle_mm=94.0)
                for n in (32, 34, 36, 38, 40, 42, 44, 48, 50)
            ],
            "cassettes": [*eights, *nines],
            "cogs": [part(f"cog {n}", 3.0 + n / 7.0, teeth=n) for n in range(12, 24)],
            "chains": [
                part("chain for 8", 12.0, links=116, outer_width_mm=7.2),
                part("chain for 9", 16.0, links=118, outer_width_mm=6.6),
            ],
            "rear_derailleurs": [
                part(
                    f"cage {capacity}",
                    price,
                    largest_cog=cog,
                    smallest_cog=11,
                    capacity=capacity,
                    family=family,
                )
                for cog, capacity, family, price in limits
            ],
            "small_parts": [
                part("nine clicks", 30.0, kind="rear shifter", clicks=9, family="nine"),
                part("gear cable", 3.0, kind="gear cable"),
                part("chain joint", 4.0, kind="chain joint"),
                part("ring bolts", 6.0, kind="ring bolts"),
            ],
        }
    )


def one_by_one(setup: Setup, stock: Bin, sample: int) -> float:
    """Seconds a kit when each is put on, priced and studied as a whole bike, over a random sample."""
    rng = random.Random(2)
    options = options_for(setup, setup, stock)
    rings: list[RingSet] = ring_sets(options.own, options.rings, len(setup.crank.rings))
    pool: list[Variant] = [
        v for cassette in options.cassettes for v in islice(variants(cassette, options.cogs), 500)
    ]
    start = time.process_time()
    for _ in range(sample):
        support = (rng.choice(of) for of in (options.derailleurs, options.shifters, options.drivers))
        kit = Kit(rng.choice(rings), rng.choice(pool), *support)
        sheet = order_sheet(study(kit.on(setup), setup), stock)
        assert sheet is not None
        _ = (sheet.price, study(sheet.after).summary)
    return (time.process_time() - start) / sample


def plan_case(name: str, goal: Goal, each_s: float) -> Row:
    """One plan, stepped through as the app does."""
    plan, longest = Plan(Setup.model_validate(SETUP), big_bin(), goal), 0.0
    start = last = time.process_time()
    for step in plan.progress():
        now = time.process_time()
        longest, last, progress = max(longest, now - last), now, step
    ours_s = last - start
    found = f"{len(progress.kits)} {'on the front' if progress.meets else 'near misses'}"
    return Row(f"plan, {name}", progress.total, ours_s, progress.total * each_s, True, found, 1000 * longest)


def small_plan_case() -> Row:
    """A plan out of a bin small enough for every kit of it to be studied: the same front by both."""
    setup, stock = random_bike(1), random_bin(1)
    start = time.process_time()
    found = Plan(setup, stock).result()
    ours_s, start = time.process_time() - start, time.process_time()
    every = every_kit(setup, stock)
    brute_s = time.process_time() - start
    front = {aims(kit) for kit in found.kits}
    assert front == front_of(every), "the plan's front is not that of every kit"
    said = f"{len(front)} on the front, by both"
    return Row("plan, small bin", found.total, ours_s, brute_s, False, said)


def show(rows: Sequence[Row]) -> None:
    """Print the table."""
    print(
        f"{'case':<22}{'candidates':>14}{'ours s':>9}{'a second':>16}{'brute s':>12}{'ratio':>12}"
        f"{'step ms':>9}  found"
    )
    for row in rows:
        rate = f"{row.candidates / row.ours_s:,.0f}"
        brute = f"{row.brute_s:,.2f}{'*' if row.scaled else ''}"
        step = f"{row.longest_step_ms:.0f}" if row.longest_step_ms else "-"
        print(
            f"{row.case:<22}{row.candidates:>14,}{row.ours_s:>9.4f}{rate:>16}{brute:>12}{row.ratio:>12,.0f}"
            f"{step:>9}  {row.found}"
        )
    print(
        "* scaled up from a sample; step ms: the longest that the search kept hold of the processor at once"
    )


def main() -> None:
    """Run all cases."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--json", type=Path, help="write the figures to a file as well")
    parser.add_argument("--sample", type=int, default=1500, help="changes that brute force studies")
    args = parser.parse_args()
    each_s = one_by_one(Setup.model_validate(SETUP), big_bin(), args.sample)
    goals = {
        "no limits": Goal(),
        "limits met": Goal(low_at_most_m=1.85, jump_at_most_pct=25.0),
        "nothing meets": Goal(low_at_most_m=1.2, cost_at_most=60.0),
    }
    rows = [even_case(9, 34, 8, None), even_case(9, 52, 12, 400_000)]
    rows.append(small_plan_case())
    rows += [plan_case(name, goal, each_s) for name, goal in goals.items()]
    show(rows)
    if args.json:
        args.json.write_text(json.dumps([asdict(row) | {"ratio": row.ratio} for row in rows], indent=1))


if __name__ == "__main__":
    main()
