"""Who may talk with the bot: members of the crew, and whoever sends the crew's code; strangers learn nothing.

Rules
1. The first to send the code becomes the crew's lead, those after are members.
2. A stranger gets one sentence that says nothing of the crew, and nothing of theirs is kept but that they wrote.
"""

from __future__ import annotations

import hmac
from datetime import datetime

from core.answers import Answer, Refused
from core.conversation.messages import Say
from core.storage import Store


def turn_away(
    store: Store,
    crew: int,
    *,
    channel: str,
    user_id: str,
    name: str,
    chat: str,
    message_id: str,
    text: str,
    now: datetime,
    say: Say,
) -> bool:
    """Answers somebody who is no member, in private; True where the code was right and they are one now."""
    with store.books(crew) as books:
        _, first_time = books.hear(
            {
                "channel": channel, "chat": chat, "message_id": message_id, "edit": 0, "speaker": name, "text": "",
                "said_at": now, "replied_to": None,
            },
            now,
        )  # fmt: skip
        if not first_time:
            return False
        code = books.crew.code.encode()
        admitted = bool(code) and hmac.compare_digest(text.strip().encode(), code)
        answer: Answer = Refused(why="stranger")
        if admitted:
            first = not any(member.role == "lead" for member in books.members())
            given = free_name(name, {member.name for member in books.members() if member.user_id is not None})
            books.join(given, channel, user_id, "lead" if first else "member", private_chat=chat)
            why = "welcome_lead" if first else "welcome"
            answer = Refused(why=why, facts={"name": given, "crew": books.crew.name})
        said = say((answer,), now.astimezone(books.crew.zone).replace(tzinfo=None))
        books.post(chat=chat, text=said.text, buttons=[], at=now, reply_to=message_id, records=[], channel=channel)
        return admitted


def free_name(name: str, taken: set[str]) -> str:
    """The name by which the crew will know a newcomer; a second Ana becomes ana-2. A roster's name is free."""
    first = (name.split() or ["friend"])[0].lower()
    if first not in taken:
        return first
    return next(f"{first}-{number}" for number in range(2, len(taken) + 3) if f"{first}-{number}" not in taken)
