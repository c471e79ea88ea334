"""Pure presentation: studies in, lines of text with roles out. The screen and the reports both read it."""
