"""What the road asks of a rider, and what each gear answers."""
