"""What the user has before them, as immutable values."""
