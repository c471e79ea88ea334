"""Sends only the cells that changed: Textual crops a partial update on its right, this also on its left."""

from rich.console import Console
from rich.control import Control
from textual._compositor import ChopsUpdate


class FrugalUpdate(ChopsUpdate):
    """A partial update of the screen, cropped on both sides."""

    @classmethod
    def of(cls, update: ChopsUpdate) -> "FrugalUpdate":
        """The same update, sent with fewer bytes."""
        return cls(update.chops, update.spans, update.chop_ends)

    def render_segments(self, console: Console) -> str:
        """The update as text and escape sequences."""
        out: list[str] = []
        for y, x1, x2 in self.spans:
            for end, (x, strip) in zip(self.chop_ends[y], self.chops[y].items(), strict=False):
                first, last = max(x, x1), min(end, x2)
                if strip is None or first >= last:
                    continue
                part = strip.crop(first - x, last - x).simplify()
                out += [Control.move_to(first, y).segment.text, part.render(console)]
        return "".join(out)
