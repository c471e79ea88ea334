"""The parts bin: what is in it, how a part is found, what would fit."""
