"""How clauses become entries: what one adds to another, repeats of it or carries on."""
