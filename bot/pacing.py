"""When may the next message go to a chat, so that Telegram's flood limits are kept?

Rules
1. Telegram's own advice (https://core.telegram.org/bots/faq, "My bot is hitting limits"): about one message a second
   in a chat, 20 a minute in a group, about 30 a second in all.
2. A turn that is booked is taken, so those who book wait in the order they booked.
"""

from __future__ import annotations

from collections import OrderedDict, deque
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """How fast messages may go out, in seconds and counts."""

    chat_gap_seconds: float = 1.0
    group_count: int = 20
    group_seconds: float = 60.0
    all_count: int = 30
    all_seconds: float = 1.0


class Pacer:
    """Books turns to send; times are seconds of any clock that never goes back."""

    KNOWN_CHATS = 10_000

    def __init__(self, limits: Limits) -> None:
        self._limits = limits
        self._all: deque[float] = deque(maxlen=limits.all_count)
        self._chats: OrderedDict[str, deque[float]] = OrderedDict()

    def wait_for(self, chat: str, now: float, *, group: bool) -> float:
        """The seconds until a message may go to this chat; nothing is booked."""
        limits, at = self._limits, now
        turns = self._chats.get(chat) or deque()
        if turns:
            at = max(at, turns[-1] + limits.chat_gap_seconds)
        if group and len(turns) == limits.group_count:
            at = max(at, turns[0] + limits.group_seconds)
        if len(self._all) == limits.all_count:
            at = max(at, self._all[0] + limits.all_seconds)
        return at - now

    def book(self, chat: str, now: float, *, group: bool) -> float:
        """The seconds to wait before this message may go, which it will then."""
        wait = self.wait_for(chat, now, group=group)
        turns = self._chats.setdefault(chat, deque(maxlen=self._limits.group_count))
        self._chats.move_to_end(chat)
        while len(self._chats) > self.KNOWN_CHATS:
            self._chats.popitem(last=False)
        turns.append(now + wait)
        self._all.append(now + wait)
        return wait
