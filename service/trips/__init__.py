"""A journey as a speed-and-grade trace: regulatory cycles and legs."""
