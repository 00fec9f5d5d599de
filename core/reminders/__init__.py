"""What is due when: reminders planned from the history of lots, trays and solutions."""

from core.reminders.ground import History
from core.reminders.kinds import Kind, kinds
from core.reminders.planning import plan
from core.reminders.values import Due, Subject
from core.reminders.wilting import after_wilting

__all__ = ["Due", "History", "Kind", "Subject", "after_wilting", "kinds", "plan"]
