"""What does a note say: the door to the reader."""

from core.notes.reading import read
from core.notes.values import NO_NAMES, Ask, Names, Reading, Repair

__all__ = ["NO_NAMES", "Ask", "Names", "Reading", "Repair", "read"]
