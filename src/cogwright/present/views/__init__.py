"""The views of the screen, each a function from a study to a page of lines."""
