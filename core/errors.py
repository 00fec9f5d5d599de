"""What can go wrong in core, said so that it can be shown to a person."""


class BenchError(Exception):
    """An error with the words that caused it and a hint of what to text or write instead."""

    def __init__(self, message: str, *, words: str = "", hint: str = "") -> None:
        super().__init__(message)
        self.words = words
        self.hint = hint


class BadEntry(BenchError):
    """An entry that would say something impossible."""


class BadTradeFile(BenchError):
    """A vocabulary or protocol file that a grower edited into something unreadable."""


class BadLength(BenchError):
    """A length of time that is not written as ISO 8601 writes it."""


class BooksBroken(BenchError):
    """Stored state that does not follow from its entries."""
