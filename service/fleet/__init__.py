"""Many routes, vehicles and months through the one physical model: which routes stay electric, by how much, and why."""
