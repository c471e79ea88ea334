"""The shifting drill on the bench's gears."""

import time

from cogwright.app.controllers.registry import does
from cogwright.app.state.opened import Drilling
from cogwright.app.state.store import SessionStore
from cogwright.core.shifting.drill import drill_of
from cogwright.core.shifting.shift_order import shift_order_of
from cogwright.core.worksheet.new_chain import with_new_chain


@does("drill")
def drill(store: SessionStore) -> None:
    """Begin a drill; the Shifting view would give the answers away."""
    study = with_new_chain(store.session.study)
    begun = drill_of(shift_order_of(study), study.gears, seed=time.time_ns())
    if begun is None:
        store.say("With one gear there is nothing to drill.")
        return
    store.replace(store.session.looked(1).pushed(Drilling(begun)))
