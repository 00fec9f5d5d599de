"""From a text to words and numbers, and what a piece of a note is."""
