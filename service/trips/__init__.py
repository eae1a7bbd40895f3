"""A journey as a speed-and-grade trace: regulatory cycles, legs and recorded tracks."""
