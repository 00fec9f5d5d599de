"""What is due when: reminders planned from the history of lots, trays and solutions."""

from core.reminders.values import Due, Subject

__all__ = ["Due", "Subject"]
