"""Is a statement a deed at all: done, not planned, heard, denied or only a way of speaking, and done to plants."""
