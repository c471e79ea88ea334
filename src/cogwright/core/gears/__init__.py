"""What each gear does: development, steps, against a baseline, against a race limit."""
