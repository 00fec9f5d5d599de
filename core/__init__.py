"""The domain library of a propagation bench: notes, lots, treatments, reminders and their figures."""
