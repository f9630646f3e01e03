"""How a car is used: the rate it runs at, and when it will get there."""
