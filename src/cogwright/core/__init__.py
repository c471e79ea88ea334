"""The figures: pure functions over immutable setups; knows nothing of files or screens."""
