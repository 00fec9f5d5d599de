"""What stands in a note, piece by piece: misspelt words mended, lots and trays, quantities with their units."""
