"""What long rides say of the bench is worked out in a thread, while the view has what they said before."""

from collections.abc import Callable

from cogwright.app.state.opened import do
from cogwright.app.state.rides import AskedOfRides, SaidOfRides
from cogwright.app.state.store import SessionStore
from cogwright.app.views import RIDES


class RidesWorker:
    """One for an app. One thread at a time: whatever has changed meanwhile is worked out after it."""

    def __init__(self, store: SessionStore) -> None:
        self._store = store
        self._working = False

    def follow(self) -> None:
        """Begin, where the view of rides lacks something."""
        session = self._store.session
        asked = session.asked_of_rides
        if self._working or session.view != RIDES or asked is None or not session.rides_are_behind:
            return
        self._working = True
        self._store.host.in_thread(do(self._work, asked))

    def _work(self, _: Callable[[], bool], asked: AskedOfRides) -> None:
        """In the thread."""
        self._store.host.hand_over(do(self._done, SaidOfRides(asked, asked.evidence())))

    def _done(self, said: SaidOfRides) -> None:
        self._working = False
        self._store.change(said_of_rides=said)
