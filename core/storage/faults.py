"""What can go wrong with the books as a file or a server."""

from core.errors import BenchError


class BadAddress(BenchError):
    """A database address that names no database Benchhand can keep books in."""


class BooksNewer(BenchError):
    """A database that a later version of Benchhand has upgraded."""


class NoSuchCrew(BenchError):
    """A crew number that the database does not hold."""


class NameTaken(BenchError):
    """A member's name that another account of the crew has already."""


class NotEmpty(BenchError):
    """Books that cannot be imported into, because they hold records."""


class BadRow(BenchError):
    """A row of an import that is not a record; its message says which row and why."""
