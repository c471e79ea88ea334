"""The chain: length, line, axle, bolt circles, and the gears that it reaches."""
