"""Wear: what was measured, what can stay, what a kilometre costs, and what was done when."""
