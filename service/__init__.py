"""Rangewright: how far a plug-in car goes on electricity alone, how long it takes to charge, and why."""
