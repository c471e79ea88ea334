"""A motor beside the rider: the grades that both hold together."""
