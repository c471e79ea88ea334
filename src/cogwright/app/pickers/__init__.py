"""Choosing, typing and reading over the bench."""
