"""The pure function: vehicle, journey, weather, starting state and choices in, answer out."""
