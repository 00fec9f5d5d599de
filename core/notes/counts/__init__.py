"""What the numbers of a sentence count: plants, a part of them, things that are no plants, days, degrees."""
