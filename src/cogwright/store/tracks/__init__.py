"""Recorded rides from files: FIT, TCX, GPX and CSV, each read in a stream and known by its content."""
