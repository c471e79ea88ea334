"""Questions to the terminal and its answers, with a clock and a terminal of our own."""

import threading
import time

import pytest

from cogwright.app.terminal.incoming import CursorAt
from cogwright.app.terminal.questions import ASK, DUE_S, MUTE_S, SETTLE_S, Questions


class Desk:
    """Holds the clock, what was sent, and what came of each question."""

    def __init__(self) -> None:
        self.now = 100.0
        self.sent: list[str] = []
        self.told: list[tuple[str, CursorAt]] = []
        self.questions = Questions(self.sent.append, lambda: self.now)

    def ask(self, name: str) -> None:
        self.questions.ask(lambda at: self.told.append((name, at)))

    def answer(self, x: int) -> None:
        then = self.questions.answered(CursorAt(x, 0))
        if then is not None:
            then()


def test_answers_belong_to_questions_in_their_order() -> None:
    desk = Desk()
    desk.ask("width")
    desk.ask("line")
    assert desk.sent == [ASK, ASK]
    desk.answer(1)
    desk.answer(7)
    assert desk.told == [("width", CursorAt(1, 0)), ("line", CursorAt(7, 0))]


def test_an_answer_that_nobody_asked_for_is_nobodys() -> None:
    desk = Desk()
    desk.answer(1)
    desk.ask("line")
    assert desk.told == []


@pytest.mark.long(cases=0)
def test_the_end_waits_for_an_answer_that_is_due_but_not_long() -> None:
    questions = Questions([].append)
    assert waited(questions) < MUTE_S / 2, "nothing was asked"
    questions.ask(lambda _: None)
    assert waited(questions) >= MUTE_S
    questions.ask(lambda _: None)
    questions.answered(CursorAt(0, 0))
    assert waited(questions) >= SETTLE_S
    threading.Timer(0.05, questions.answered, [CursorAt(0, 0)]).start()
    assert waited(questions) < SETTLE_S


def waited(questions: Questions) -> float:
    """Seconds that the end waits."""
    begun = time.monotonic()
    questions.settle()
    return time.monotonic() - begun


def test_nothing_is_due_of_a_terminal_that_never_answers() -> None:
    desk = Desk()
    desk.ask("width")
    assert desk.questions.due()
    desk.now += DUE_S + 0.1
    assert not desk.questions.due()
    desk.ask("line")
    assert not desk.questions.due()
    desk.answer(1)
    assert desk.questions.due(), "it does answer"
