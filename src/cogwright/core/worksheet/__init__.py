"""The order sheet: what comes off, what goes on, and the work in order."""
