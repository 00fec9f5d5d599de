"""What is wished for: reminders, targets, rules and who is at the bench when."""
