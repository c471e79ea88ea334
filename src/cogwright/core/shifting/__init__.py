"""How to shift a setup, and the drill that teaches it."""
