"""Between Textual and the terminal: few bytes, a slow line, and giving it back."""
