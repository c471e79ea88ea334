"""Keeping the work: drafts, the file watch, signals, crashes."""
