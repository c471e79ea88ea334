"""A recorded track made into a road: spikes out, noise found, pieces of constant grade, joints rounded."""
