"""What a car, a day and a road do to a battery: compiled scalar functions and the one time loop."""
