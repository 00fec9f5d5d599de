"""The sums of the bench: seed, solutions, room, air, and the chances of a lot."""
