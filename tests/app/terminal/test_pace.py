"""When a drawing is let through, with a clock and a terminal of our own."""

from collections.abc import Callable
from dataclasses import dataclass, field

from cogwright.app.terminal.pace import AHEAD, ASK, GIVE_UP_S, LINE, QUICK_KEYS, SETTLE_S, Pace


@dataclass
class Stage:
    """A host of a pace: counts redraws, remembers timers, and holds the clock."""

    now: float = 100.0
    drawings: int = 0
    asked: list[str] = field(default_factory=list)
    timers: list["Timer"] = field(default_factory=list)

    def redraw(self) -> None:
        self.drawings += 1

    def after(self, seconds: float, what: Callable[[], None]) -> "Timer":
        self.timers.append(Timer(self.now + seconds, what))
        return self.timers[-1]

    def wait(self, seconds: float) -> None:
        """Let time pass; due timers run."""
        self.now += seconds
        for timer in self.timers:
            if timer.due <= self.now and timer.live:
                timer.live = False
                timer.what()

    def pace(self) -> Pace:
        made = Pace(self, self.asked.append, lambda: self.now)
        for _ in range(2):  # the start
            made.sent(5_000)
        self.now += 5
        return made


@dataclass
class Timer:
    due: float
    what: Callable[[], None]
    live: bool = True

    def stop(self) -> None:
        self.live = False


def key(stage: Stage, pace: Pace, size: int, after: float) -> bool:
    """A key and, if it is let through, its drawing."""
    stage.wait(after)
    drawn = pace.lets_through()
    if drawn:
        pace.sent(size)
    return drawn


def test_every_drawing_is_asked_for() -> None:
    stage = Stage()
    pace = stage.pace()
    before = len(stage.asked)
    key(stage, pace, 500, 1)
    assert stage.asked[before:] == [ASK]


def test_single_keys_are_drawn_at_once_however_large() -> None:
    """A hand that types: a mute terminal holds nothing back."""
    stage = Stage()
    pace = stage.pace()
    assert all(key(stage, pace, 20_000, 0.07) for _ in range(30))


def test_no_key_waits_long_where_nobody_answers() -> None:
    """What went before is counted as one drawing at most: it may have arrived long ago."""
    stage = Stage()
    pace = stage.pace()
    size = 2_000
    for _ in range(20):
        key(stage, pace, size, 0.06)
    while key(stage, pace, size, 0.001):
        pass
    stage.wait(size / LINE)
    assert stage.drawings == 1


def test_a_held_key_keeps_to_a_slow_line_where_nobody_answers() -> None:
    stage = Stage()
    pace = stage.pace()
    begun = stage.now
    drawn = sum(key(stage, pace, 1_000, 0.03) for _ in range(100))
    allowed = ((stage.now - begun) * LINE + AHEAD) / 1_000 + 1
    assert 5 < drawn <= allowed


def test_a_few_quick_keys_are_no_burst() -> None:
    """An arrow and Enter in one piece are drawn at once, whatever went before."""
    stage = Stage()
    pace = stage.pace()
    for _ in range(20):
        key(stage, pace, 20_000, 0.1)
    assert key(stage, pace, 3_000, 0.001)
    assert key(stage, pace, 3_000, 0.001)


def test_what_was_held_is_drawn_when_the_line_is_free() -> None:
    stage = Stage()
    pace = stage.pace()
    while key(stage, pace, 2_000, 0.01):
        pass
    assert stage.drawings == 0
    stage.wait(QUICK_KEYS * 2_000 / LINE)
    assert stage.drawings == 1


def test_an_answering_terminal_is_waited_for_and_then_drawn_at_once() -> None:
    stage = Stage()
    pace = stage.pace()
    pace.answered()
    pace.answered()
    assert key(stage, pace, 500, 1)
    assert not key(stage, pace, 500, 1)
    assert not key(stage, pace, 500, 0)
    pace.answered()
    assert stage.drawings == 1, "once for all the keys that came meanwhile"
    assert key(stage, pace, 500, 0)


def test_a_terminal_that_falls_silent_is_given_up() -> None:
    stage = Stage()
    pace = stage.pace()
    pace.answered()
    pace.answered()
    key(stage, pace, 500, 1)
    assert not key(stage, pace, 500, 0.1)
    stage.wait(GIVE_UP_S)
    assert stage.drawings == 1
    assert key(stage, pace, 500, 0)


def test_the_end_waits_for_the_last_answer_but_not_long() -> None:
    stage = Stage()
    pace = stage.pace()
    pace.answered()
    pace.answered()
    key(stage, pace, 500, 1)
    left: list[str] = []
    pace.settle(lambda: left.append("answered"))
    assert left == []
    pace.answered()
    assert left == ["answered"]
    key(stage, pace, 500, 1)
    pace.settle(lambda: left.append("late"))
    stage.wait(SETTLE_S)
    assert left == ["answered", "late"]


def test_the_end_does_not_wait_for_a_mute_terminal() -> None:
    stage = Stage()
    pace = stage.pace()
    left: list[str] = []
    pace.settle(lambda: left.append("at once"))
    assert left == ["at once"]


def test_nothing_is_asked_of_a_local_terminal_and_nothing_waits() -> None:
    stage = Stage()
    pace = Pace(stage, None, lambda: stage.now)
    assert all(key(stage, pace, 20_000, 0.01) for _ in range(50))
    assert (stage.asked, stage.timers) == ([], [])
