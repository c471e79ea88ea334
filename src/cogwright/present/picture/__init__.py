"""The chart of the gears as a drawing: SVG, to be looked at without the program."""
