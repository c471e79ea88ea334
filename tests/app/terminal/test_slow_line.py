"""When a drawing is let through, with a clock and a terminal of our own."""

from collections.abc import Callable
from dataclasses import dataclass, field

from cogwright.app.terminal.slow_line import AHEAD, GIVE_UP_S, LINE, QUICK_KEYS, WINDOW, SlowLine


@dataclass
class Stage:
    """A host of a slow line: counts drawings, remembers questions and timers, and holds the clock."""

    now: float = 100.0
    drawings: int = 0
    asked: list[Callable[[], None]] = field(default_factory=list)
    timers: list["Timer"] = field(default_factory=list)

    def ask(self, then: Callable[[], None]) -> None:
        self.asked.append(then)

    def draw(self) -> None:
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

    def answer(self) -> None:
        """The terminal answers what it was asked first."""
        self.asked.pop(0)()

    def line(self, answers: bool = False) -> SlowLine:
        made = SlowLine(self, lambda: self.now)
        for _ in range(2):  # the start
            made.sent(5_000)
            if answers:
                self.answer()
        self.now += 5
        return made


@dataclass
class Timer:
    due: float
    what: Callable[[], None]
    live: bool = True

    def cancel(self) -> None:
        self.live = False


def key(stage: Stage, line: SlowLine, size: int, after: float) -> bool:
    """A key and, if it is let through, its drawing."""
    stage.wait(after)
    line.key_came()
    drawn = line.lets_through()
    if drawn:
        line.sent(size)
    return drawn


def test_every_drawing_is_asked_for() -> None:
    stage = Stage()
    line = stage.line()
    before = len(stage.asked)
    key(stage, line, 500, 1)
    assert len(stage.asked) == before + 1


def test_single_keys_are_drawn_at_once_however_large() -> None:
    """A hand that types: a mute terminal holds nothing back."""
    stage = Stage()
    line = stage.line()
    assert all(key(stage, line, 20_000, 0.07) for _ in range(30))


def test_one_key_may_make_several_drawings() -> None:
    """They are no row of quick keys."""
    stage = Stage()
    line = stage.line()
    key(stage, line, 20_000, 1)
    for _ in range(2 * QUICK_KEYS):
        assert line.lets_through()
        line.sent(5_000)


def test_no_key_waits_long_where_nobody_answers() -> None:
    """What went before a row of quick keys hardly counts: it may have arrived long ago."""
    stage = Stage()
    line = stage.line()
    size = 2_000
    for _ in range(20):
        key(stage, line, size, 0.07)
    while key(stage, line, size, 0.001):
        pass
    stage.wait(QUICK_KEYS * size / LINE)
    assert stage.drawings == 1


def test_a_held_key_keeps_to_a_slow_line_where_nobody_answers() -> None:
    stage = Stage()
    line = stage.line()
    begun = stage.now
    drawn = sum(key(stage, line, 1_000, 0.03) for _ in range(100))
    allowed = ((stage.now - begun) * LINE + AHEAD) / 1_000 + 1
    assert 5 < drawn <= allowed


def test_a_few_quick_keys_are_no_burst() -> None:
    """An arrow and Enter in one piece are drawn at once, whatever went before."""
    stage = Stage()
    line = stage.line()
    for _ in range(20):
        key(stage, line, 20_000, 0.1)
    assert key(stage, line, 3_000, 0.001)
    assert key(stage, line, 3_000, 0.001)


def test_what_was_held_is_drawn_when_the_line_is_free() -> None:
    stage = Stage()
    line = stage.line()
    while key(stage, line, 2_000, 0.01):
        pass
    assert stage.drawings == 0
    stage.wait(QUICK_KEYS * 2_000 / LINE)
    assert stage.drawings == 1


def test_an_answering_terminal_is_waited_for_and_then_drawn_at_once() -> None:
    stage = Stage()
    line = stage.line(answers=True)
    assert key(stage, line, WINDOW + 1, 1)
    assert not key(stage, line, 500, 1)
    assert not key(stage, line, 500, 0)
    stage.answer()
    assert stage.drawings == 1, "once for all the keys that came meanwhile"
    assert key(stage, line, 500, 0)


def test_small_drawings_follow_one_another_without_an_answer_but_not_many() -> None:
    stage = Stage()
    line = stage.line(answers=True)
    sent = 0
    while key(stage, line, 300, 0.001):
        sent += 300
    assert WINDOW < sent <= WINDOW + 300
    stage.answer()
    assert stage.drawings == 1


def test_a_terminal_that_falls_silent_is_given_up() -> None:
    stage = Stage()
    line = stage.line(answers=True)
    key(stage, line, 2_000, 1)
    assert not key(stage, line, 500, 0.1)
    stage.wait(GIVE_UP_S)
    assert stage.drawings == 1
    assert key(stage, line, 500, 0)
    stage.answer()  # late answers do no harm
    stage.answer()
    assert key(stage, line, 500, 0)
