"""Which modes of the terminal are switched on, by what was written: they are all switched off in the end."""

import re
from typing import Final

#: A private mode set or reset (DECSET, DECRST), and a keyboard mode pushed or popped (kitty's protocol).
_MODES: Final = re.compile(r"\x1b\[\?([\d;]+)([hl])|(\x1b\[>\d+u)|(\x1b\[<u)")
#: Modes that are on where nobody asked for anything: lines wrap, the cursor is seen.
_USUAL: Final = frozenset({"7", "25"})
_KEYS: Final = "keys"
#: The alternate screen goes last: the keyboard has modes for each of the two screens.
_LAST: Final = "1049"


class Modes:
    """The modes that are not as they usually are."""

    def __init__(self) -> None:
        self._changed: dict[str, str] = {}
        self._ever: dict[str, str] = {}

    def note(self, written: str) -> None:
        """Note what text for the terminal switches."""
        for modes, to, push, pop in _MODES.findall(written):
            for mode in modes.split(";"):
                self._note(mode, f"\x1b[?{mode}{to}", (to == "h") == (mode in _USUAL))
            if push or pop:
                self._note(_KEYS, push, bool(pop))

    def _note(self, mode: str, sequence: str, usual: bool) -> None:
        if usual:
            self._changed.pop(mode, None)
        else:
            self._changed[mode] = self._ever[mode] = sequence

    def __bool__(self) -> bool:
        return bool(self._changed)

    def again(self) -> str:
        """What switches them on once more, in the order in which they were."""
        return "".join(_usual(_KEYS) * (mode == _KEYS) + on for mode, on in self._changed.items())

    def off(self) -> str:
        """What makes them all usual again."""
        return "".join(map(_usual, sorted(self._changed, key=_LAST.__eq__)))

    def all_off(self) -> str:
        """What does the same where it is not known how much of what was written has reached the terminal."""
        return "".join(map(_usual, sorted([*self._ever], key=_LAST.__eq__)))


def _usual(mode: str) -> str:
    if mode == _KEYS:
        return "\x1b[<u"
    return f"\x1b[?{mode}{'h' if mode in _USUAL else 'l'}"
