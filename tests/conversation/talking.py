"""A crew that talks with the bot in a test: what is said in, what the bot says out."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

from bot.reminder_job import tick
from bot.wording import say_in
from core.conversation import Message, take_turn
from core.conversation.checking import check_books
from core.lots import Lot
from core.storage import OutboxMessage, Store


@dataclass
class Talk:
    """One crew's group chat on a store, at a time that the test sets."""

    store: Store
    zone: ZoneInfo = field(default_factory=lambda: ZoneInfo("America/Los_Angeles"))
    now: datetime = datetime(2026, 2, 10, 17, 0, tzinfo=UTC)
    crew: int = 0
    count: int = 0
    group: str = "group"
    heard: list[OutboxMessage] = field(default_factory=list)

    def __post_init__(self) -> None:
        crew = self.store.found_crew("Plover Landing", self.zone, f"sesame for {self.group}")
        self.crew = crew.number
        with self.store.books(self.crew) as books:
            books.meet_in("test", self.group)
            books.join("imke", "test", "imke", "lead", private_chat="private:imke")
            books.join("osei", "test", "osei", "member", private_chat="private:osei")

    def wait(self, **span: int) -> None:
        self.now += timedelta(**span)

    def say(self, text: str, by: str = "imke", **more: object) -> str:
        """What the bot answers to these words."""
        self.count += 1
        message = Message(
            channel="test", chat=self.group, message_id=f"m{self.count}", speaker=by, said_at=self.now, text=text
        )
        return self.send(replace(message, **more))  # type: ignore[arg-type]

    def send(self, message: Message) -> str:
        """What the bot answers to a whole message; empty where it says nothing."""
        turn = take_turn(self.store, self.crew, message, self.now, say_in(self.zone))
        if turn.fault is not None:
            raise turn.fault
        return "\n".join(one.text for one in self.collect() if one.chat == message.chat)

    def collect(self) -> list[OutboxMessage]:
        """The messages that wait in the outbox, taken as sent."""
        taken: list[OutboxMessage] = []
        while waiting := self.store.outbox_due(self.now, limit=50):
            for one in waiting:
                sent = replace(one, sent_message_id=f"b{len(self.heard) + 1}")
                self.store.outbox_state(one.number, "sent", sent_message_id=sent.sent_message_id, at=self.now)
                self.heard.append(sent)
                taken.append(sent)
        return taken

    def press(self, label: str, by: str = "imke") -> str:
        """What the bot answers to a press of the latest button with this label."""
        for message in reversed(self.heard):
            for name, token in message.buttons:
                if name == label:
                    return self.say("", by, pressed=token, replied_to=message.sent_message_id)
        raise AssertionError(f"no button {label}")

    def buttons(self) -> list[str]:
        """The labels on the bot's latest message."""
        return [label for label, _ in self.heard[-1].buttons]

    def remind(self, **span: int) -> list[str]:
        """Lets time pass to the next tick of reminders, and what they said."""
        self.wait(**span)
        tick(self.store, self.now)
        return [one.text for one in self.collect()]

    def lot(self, number: str) -> Lot:
        """A lot as the books hold it."""
        with self.store.reading(self.crew) as books:
            found = books.lot(number)
        assert found is not None, number
        return found

    def faults(self) -> list[str]:
        """What `benchhand check` finds."""
        return check_books(self.store, self.crew)

    def rows(self) -> list[dict[str, object]]:
        """What an export would print."""
        return list(self.store.export_rows(self.crew))

    def acts(self) -> list[object]:
        """The acts of the entries that hold, in order."""
        return [row["act"] for row in self.rows() if row.get("superseded_by") is None]
