"""The line for text in the drawer."""

from textual.widgets import Input

from cogwright.core.common.safe_text import clean


class Typed(Input):
    """Takes no character that a terminal would obey: what is pasted may come from anywhere."""

    def validate_value(self, value: str) -> str:
        """See Textual's reactive attributes."""
        return clean(value)
