"""Does the bot's token ever reach a log? Never: it is struck out of every line, tracebacks included.

Rules
1. The filter stands on the handlers, so that lines of every library pass it.
2. The library that fetches addresses (httpx) writes each one, token and all, at INFO; it may speak from WARNING up.
"""

from __future__ import annotations

import logging
from typing import TextIO
from urllib.parse import quote

STRUCK = "(token)"
_QUIET = ("httpx", "httpcore", "telegram", "apscheduler", "alembic")


class TokenFilter(logging.Filter):
    """Strikes a token out of whatever is logged: words, arguments, tracebacks and stacks."""

    def __init__(self, token: str) -> None:
        super().__init__()
        secret = token.partition(":")[2]
        forms = {token, quote(token, safe=""), quote(token), *([secret] if len(secret) > 7 else [])}
        self._forms = sorted((form for form in forms if form), key=len, reverse=True)

    def strike(self, text: str) -> str:
        """The text without the token."""
        for form in self._forms:
            text = text.replace(form, STRUCK)
        return text

    def filter(self, record: logging.LogRecord) -> bool:
        try:
            record.msg = self.strike(record.getMessage())
        except (TypeError, ValueError, KeyError):
            record.msg = self.strike(f"{record.msg!s} {record.args!r}")
        record.args = ()
        if record.exc_info:
            record.exc_text = self.strike(logging.Formatter().formatException(record.exc_info))
        if record.stack_info:
            record.stack_info = self.strike(record.stack_info)
        return True


def open_log(token: str, stream: TextIO) -> TokenFilter:
    """Sends all logs to `stream` through the filter, and hushes the libraries that talk of addresses."""
    strike = TokenFilter(token)
    lines = logging.StreamHandler(stream)
    lines.setFormatter(logging.Formatter("%(asctime)s %(levelname)s %(name)s: %(message)s"))
    lines.addFilter(strike)
    root = logging.getLogger()
    for known in root.handlers:
        known.addFilter(strike)
    root.addHandler(lines)
    root.setLevel(logging.INFO)
    for name in _QUIET:
        logging.getLogger(name).setLevel(logging.WARNING)
    return strike
