"""Which act does a clause tell, and with what details."""
