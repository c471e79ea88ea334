"""Rides that nobody rode: the gear of each second is known, and what common sensors make of it."""

import math
import random
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import islice
from pathlib import Path

from cogwright.core.gears.gears import Gear
from cogwright.core.riding.course import Course, from_points
from cogwright.core.riding.course_ride import course_ride
from cogwright.core.riding.legs import Legs
from cogwright.core.riding.recording import Moment, Recorder, Recording
from cogwright.core.setup.model import Setup

#: How a cadence sensor is late: not at all; by a second; by a second after shifts alone; as a mean of two.
LATE = ("never", "always", "after shifts", "as a mean")


@dataclass(frozen=True)
class Sensors:
    """A recorder: how its cadence is late, and how often it drops out (as nothing, or as 0)."""

    late: str = "after shifts"
    drops: float = 0.0
    as_zero: bool = False


@dataclass(frozen=True)
class Second:
    """What was true in a second: m/s, the gear, whether it was pedalled, height in m."""

    speed: float
    gear: Gear
    pedalled: bool
    height_m: float = math.nan

    @property
    def rpm(self) -> float:
        """Cadence in rpm; 0 while coasting."""
        return 60.0 * self.speed / self.gear.development_m if self.pedalled else 0.0


def random_ride(gears: Sequence[Gear], seed: int, seconds: int, between: tuple[float, float]) -> list[Second]:
    """A ride of gear sequences: shifts of one or two clicks, now and then at the front; some coasting."""
    rng = random.Random(seed)
    gear, left, coast = gears[len(gears) // 2], rng.uniform(*between), 0
    speed, out = gear.development_m * 85 / 60, list[Second]()
    for _ in range(seconds):
        left, coast = left - 1, coast - 1
        if left < 0:
            gear, left = _shifted(gears, gear, rng), rng.uniform(*between)
        wanted = gear.development_m * 85 / 60
        speed = max(speed + 0.04 * (wanted - speed) + rng.gauss(0, 0.06), 1.5)
        if coast < -20 and rng.random() < 0.01:
            coast = rng.randint(3, 15)
        out.append(Second(speed, gear, coast <= 0))
    return out


def _shifted(gears: Sequence[Gear], gear: Gear, rng: random.Random) -> Gear:
    same = [g for g in gears if g.ring == gear.ring]
    others = [g for g in gears if g.ring != gear.ring and g.cog == gear.cog and g.hub == gear.hub]
    if others and rng.random() < 0.1:
        return rng.choice(others)
    at = same.index(gear) + rng.choice([-2, -1, -1, 1, 1, 2])
    return same[max(0, min(len(same) - 1, at))]


def recorded(ride: Sequence[Second], sensors: Sensors, seed: int = 0) -> Recording:
    """The ride as it is written down: cadence in whole rpm, speed in tenths of km/h, late, with drop-outs."""
    rng = random.Random(seed)
    found = Recorder()
    for at, now in enumerate(ride):
        rpm: float = round(_told(ride, at, sensors.late))
        if rng.random() < sensors.drops:
            rpm = 0.0 if sensors.as_zero else math.nan
        speed = round(3.6 * now.speed, 1) / 3.6
        found.add(Moment(seconds=float(at), speed=speed, rpm=rpm, height_m=now.height_m))
    return found.recording("synthetic", "")


def _told(ride: Sequence[Second], at: int, late: str) -> float:
    now, before = ride[at], ride[max(at - 1, 0)]
    told: dict[str, Callable[[], float]] = {
        "never": lambda: now.rpm,
        "always": lambda: before.rpm,
        "as a mean": lambda: (now.rpm + before.rpm) / 2,
        "after shifts": lambda: before.rpm if now.pedalled and before.gear != now.gear else now.rpm,
    }
    return told[late]()


def ride_over(course: Course, setup: Setup, seed: int) -> list[Second]:
    """A ride over a course by the program's own rider, a second at a time, with an unsteady speed."""
    fine = from_points(
        "fine", [(25.0 * i, course.height_at(25.0 * i)) for i in range(int(course.length_m // 25))]
    )
    ride, rng = course_ride(fine, setup, setup.rider), random.Random(seed)
    out, wobble = list[Second](), 0.0
    piece, inside = 0, 0.0
    while piece < len(fine.pieces):
        share = inside / fine.pieces[piece].length_m
        start, end = ride.motion.speeds[piece : piece + 2]
        idle = sum(ride.motion.by_legs[legs][piece] for legs in (Legs.ROLL, Legs.WALK))
        wobble = 0.9 * wobble + rng.gauss(0, 0.006)
        speed = (start + (end - start) * share) * (1 + wobble)
        height = fine.heights_m[piece] + share * fine.pieces[piece].rise_m
        out.append(Second(speed, ride.gear_at[piece], idle < 0.5 * ride.seconds[piece], height))
        inside += speed
        while piece < len(fine.pieces) and inside >= fine.pieces[piece].length_m:
            inside -= fine.pieces[piece].length_m
            piece += 1
    return out


def csv_of(recording: Recording, every: int = 1) -> str:
    """A recording as the CSV that the program reads, one moment of so many."""
    rows = ["time_s,speed_kmh,cadence_rpm,height_m"]
    columns = zip(recording.seconds, recording.speeds, recording.rpms, recording.heights_m, strict=True)
    for second, speed, rpm, height in islice(columns, 0, None, every):
        turned = "" if math.isnan(rpm) else f"{rpm:.0f}"
        high = "" if math.isnan(height) else f"{height:.1f}"
        rows.append(f"{second:.0f},{3.6 * speed:.1f},{turned},{high}")
    return "\n".join(rows) + "\n"


def main() -> None:
    """Write the demo's rides anew, a moment every two seconds to keep them small."""
    from cogwright.store.courses import read_course
    from cogwright.store.documents import read_setup
    from support import ROOT

    setups = ROOT / "setups"
    (setups / "rides").mkdir(exist_ok=True)
    for name, bike, course in (
        ("crook-hause.csv", "yard-1-two-rings.toml", "crook-hause.toml"),
        ("long-rigg.csv", "yard-7-pass.toml", "long-rigg.gpx"),
    ):
        ride = ride_over(read_course(setups / "courses" / course), read_setup(setups / bike).value, 4)
        made = recorded(ride, Sensors("never", drops=0.004), seed=4)
        Path(setups / "rides" / name).write_text(csv_of(made, every=2), encoding="utf-8")


if __name__ == "__main__":
    main()
