"""How an act is filled from the pieces of its clause: counts, places, sources, things, days."""
