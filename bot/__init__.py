"""What waits, sends, draws and reads the clock: the chat in front of core, and the reminder job."""
