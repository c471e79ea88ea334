"""A drivetrain bench in the terminal."""

__version__ = "0.1.0"
