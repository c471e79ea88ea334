"""Searching for changes worth making: more even steps, a single ring, a plan out of the parts bin."""
