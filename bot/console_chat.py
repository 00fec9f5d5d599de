"""The chat at the console: a line typed or piped is a message, and what the bot says is printed.

Rules
1. A label in brackets, as it was shown ("[Undo]"), presses that button.
2. A picture is drawn into the folder of media, and its path printed.
3. Reminders that fall due while the chat waits are printed when they are due, in a terminal.
"""

from __future__ import annotations

import select
import sys
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import TextIO
from zoneinfo import ZoneInfo

from bot.drawing import draw, facts_for
from bot.reminder_job import tick
from bot.wording import say_in
from core.conversation import Message, take_turn
from core.storage import OutboxMessage, Store

CHANNEL = "console"
CHAT = "console"
SPEAKER = "you"
PROMPT = "> "
LOOKS_EVERY_SECONDS = 20


def chat(
    store: Store, zone: ZoneInfo, clock: Callable[[], datetime], lines: TextIO, out: TextIO, media: Path
) -> int:
    """Talks until the lines end. `clock` gives the aware present; `media` is the folder for pictures."""
    crew = _crew(store, zone)
    with store.reading(crew) as books:
        last = books.latest_message(CHAT, SPEAKER)
        number = int(last.message_id.removeprefix("c")) if last else 0
        zone = books.crew.zone
    asks_at_prompt = lines.isatty() and out.isatty()
    if asks_at_prompt:
        print('Text what you did at the bench, or ask. "help" shows how; ctrl-d ends.', file=out)
    shown: list[OutboxMessage] = []
    tick(store, clock())
    shown = _print_outbox(store, clock(), out, media) or shown
    while (line := _next_line(store, clock, lines, out, asks_at_prompt, media)) is not None:
        number += 1
        now = clock()
        pressed = _pressed(line.strip(), shown)
        message = Message(
            channel=CHANNEL, chat=CHAT, message_id=f"c{number}", speaker=SPEAKER, said_at=now, private=False,
            text="" if pressed else line, pressed=pressed, replied_to=None,
        )  # fmt: skip
        take_turn(store, crew, message, now, say_in(zone, pictures=True))
        tick(store, clock())
        shown = _print_outbox(store, clock(), out, media) or shown
    return 0


def _crew(store: Store, zone: ZoneInfo) -> int:
    crews = store.crews()
    crew = crews[0] if crews else store.found_crew("The bench", zone, "")
    with store.books(crew.number) as books:
        if books.member(SPEAKER) is None:
            lead = not any(member.role == "lead" for member in books.members())
            books.join(SPEAKER, CHANNEL, SPEAKER, "lead" if lead else "member", private_chat=CHAT)
        if books.crew.group_chat is None:
            books.meet_in(CHANNEL, CHAT)
    return crew.number


def _next_line(
    store: Store, clock: Callable[[], datetime], lines: TextIO, out: TextIO, asks_at_prompt: bool, media: Path
) -> str | None:
    if asks_at_prompt:
        print(PROMPT, end="", file=out, flush=True)
        while sys.platform != "win32" and not select.select([lines], [], [], LOOKS_EVERY_SECONDS)[0]:
            if tick(store, clock()):
                print(file=out)
                _print_outbox(store, clock(), out, media)
                print(PROMPT, end="", file=out, flush=True)
    line = lines.readline()
    return line.rstrip("\n") if line else None


def _pressed(line: str, shown: list[OutboxMessage]) -> str | None:
    if not (line.startswith("[") and line.endswith("]")):
        return None
    for message in reversed(shown):
        for label, token in message.buttons:
            if label.casefold() == line[1:-1].strip().casefold():
                return token
    return None


def _print_outbox(store: Store, now: datetime, out: TextIO, media: Path) -> list[OutboxMessage]:
    shown: list[OutboxMessage] = []
    while waiting := store.outbox_due(now, limit=50, channel=CHANNEL):
        for message in waiting:
            store.outbox_state(message.number, "sent", sent_message_id=f"out{message.number}", at=now)
            buttons = " ".join(f"[{label}]" for label, _ in message.buttons)
            drawn = _drawn(store, message.document, media) if message.document else ""
            print("\n".join(filter(None, (message.text, drawn, buttons))), file=out, flush=True)
            shown.append(message)
    return shown


def _drawn(store: Store, name: str, media: Path) -> str:
    """Where the picture of a message was written; what to do where it could not be."""
    facts = facts_for(store, name)
    if facts is None:
        return ""
    try:
        return f"Drawn: {draw(name, facts, media)}"
    except OSError as wrong:
        return f"The picture could not be written to {media} ({wrong.strerror}). BENCHHAND_MEDIA names another folder."
