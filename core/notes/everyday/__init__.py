"""What of a note is everyday talk, and nothing of the bench."""
