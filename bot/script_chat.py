"""How a conversation script is played: a whole talk with no network, no Telegram and no real clock.

Rules
1. Every line of the input that is not the bot's comes back unchanged and in order; what the bot says stands where it
   said it.
2. Time passes only by `clock:`; every reminder due on the way is sent at its own minute, in order.
3. Members are the people named in the script, the first one the lead; a stranger is no member.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from bot.drawing import draw, facts_for, size_of
from bot.reminder_job import next_due_at, tick
from bot.script_lines import ScriptFault, Step, read_clock, read_script
from bot.wording import say_in
from core.conversation import Message, take_turn
from core.conversation.admission import turn_away
from core.storage import OutboxMessage, Store, open_store

GROUP = "group"
CHANNEL = "script"
_SPOKEN = frozenset({"says", "replies", "edits", "presses", "sends", "late"})
LOOKS_AT_MOST = 100_000


@dataclass(slots=True)
class _Heard:
    message_id: str
    chat: str
    edit: int = 0


@dataclass(slots=True)
class Stage:
    """The talk so far: the store, the local time, what was printed, and which message is which."""

    file: str
    url: str
    store: Store
    zone: ZoneInfo = field(default_factory=lambda: ZoneInfo("UTC"))
    crew_name: str = "The crew"
    crew: int | None = None
    now: datetime | None = None
    printed: list[str] = field(default_factory=list)
    messages: int = 0
    said: list[OutboxMessage] = field(default_factory=list)
    latest: dict[str, _Heard] = field(default_factory=dict)

    def instant(self) -> datetime:
        assert self.now is not None
        return self.now.replace(tzinfo=self.zone).astimezone(UTC)


def play(text: str, file: str, url: str) -> str:
    """The whole talk of a script, with what the bot really said. Raises ScriptFault with its place."""
    steps = read_script(text, file)
    stage = Stage(file=file, url=url, store=open_store(url))
    try:
        names = list(dict.fromkeys(step.name for step in steps if step.kind in _SPOKEN))
        for step in steps:
            _play_step(stage, step, names)
    finally:
        stage.store.close()
    return "\n".join(stage.printed) + "\n"


def _play_step(stage: Stage, step: Step, names: list[str]) -> None:
    if step.kind == "bot":
        return
    stage.printed.extend(step.raw)
    match step.kind:
        case "crew":
            stage.crew_name = step.text.strip()
        case "zone":
            stage.zone = _zone(stage, step)
        case "clock":
            _pass_time(stage, step)
        case "restart":
            stage.store.close()
            stage.store = open_store(stage.url)
        case "stranger":
            _begin(stage, step, names)
            _turn_away(stage, step)
        case kind if kind in _SPOKEN:
            _begin(stage, step, names)
            _hear(stage, step)
        case _:
            pass


def _zone(stage: Stage, step: Step) -> ZoneInfo:
    try:
        return ZoneInfo(step.text.strip())
    except (ZoneInfoNotFoundError, ValueError):
        raise ScriptFault(stage.file, step.line, f"no such zone: {step.text.strip()}") from None


def _begin(stage: Stage, step: Step, names: Iterable[str]) -> None:
    """Founds the crew at the first step that needs one, when the head of the script is read."""
    if stage.now is None:
        raise ScriptFault(stage.file, step.line, "the script needs a clock: line before anybody speaks")
    if stage.crew is not None:
        return
    known = stage.store.crews()
    crew = known[0] if known else stage.store.found_crew(stage.crew_name, stage.zone, "bench-door")
    stage.crew = crew.number
    with stage.store.books(crew.number) as books:
        books.meet_in(CHANNEL, GROUP)
        for place, name in enumerate(names):
            if books.member(name) is None:
                role = "lead" if place == 0 else "member"
                books.join(name, CHANNEL, name, role, private_chat=f"private:{name}")


def _hear(stage: Stage, step: Step) -> None:
    assert stage.crew is not None
    chat = f"private:{step.name}" if step.private else GROUP
    stage.messages += 1
    message_id, edit, text = f"m{stage.messages}", 0, step.text
    said_at, replied_to, pressed, photo = stage.instant(), None, None, None
    match step.kind:
        case "replies":
            answered = _answered(stage, step, chat)
            replied_to, chat = answered.sent_message_id, answered.chat
        case "edits":
            heard = stage.latest.get(step.name)
            if heard is None:
                raise ScriptFault(stage.file, step.line, f"{step.name} has said nothing that could be edited")
            heard.edit += 1
            message_id, edit, chat = heard.message_id, heard.edit, heard.chat
        case "presses":
            pressed, replied_to, chat = _button(stage, step)
            text = ""
        case "sends":
            photo = step.file
        case "late":
            said_at = _late(stage, step)
        case _:
            pass
    if not edit and pressed is None:
        stage.latest[step.name] = _Heard(message_id, chat)
    message = Message(
        channel=CHANNEL, chat=chat, message_id=message_id, edit=edit, speaker=step.name, text=text, said_at=said_at,
        private=chat != GROUP, replied_to=replied_to, pressed=pressed, photo=photo,
    )  # fmt: skip
    take_turn(stage.store, stage.crew, message, stage.instant(), say_in(stage.zone, pictures=True))
    _print_outbox(stage, timed=False)


def _late(stage: Stage, step: Step) -> datetime:
    said_at = read_clock(step.when, None, stage.file, step.line).replace(tzinfo=stage.zone).astimezone(UTC)
    if said_at > stage.instant():
        raise ScriptFault(stage.file, step.line, "a late message was written before the clock's time, not after")
    return said_at


def _answered(stage: Stage, step: Step, chat: str) -> OutboxMessage:
    if step.which is not None:
        if not 1 <= step.which <= len(stage.said):
            raise ScriptFault(stage.file, step.line, f"the bot has not said {step.which} messages")
        return stage.said[step.which - 1]
    said = [message for message in stage.said if message.chat == chat]
    if not said:
        raise ScriptFault(stage.file, step.line, "there is no message of the bot's to reply to")
    return said[-1]


def _button(stage: Stage, step: Step) -> tuple[str, str | None, str]:
    label = step.text.strip()
    seen = [GROUP, f"private:{step.name}"]
    for message in reversed(stage.said):
        if message.chat in seen:
            for name, token in message.buttons:
                if name == label:
                    return token, message.sent_message_id, message.chat
    raise ScriptFault(stage.file, step.line, f'no button "{label}" on the bot\'s latest message')


def _turn_away(stage: Stage, step: Step) -> None:
    assert stage.crew is not None
    stage.messages += 1
    turn_away(
        stage.store, stage.crew, chat=f"private:{step.name}", message_id=f"m{stage.messages}", name=step.name,
        text=step.text, now=stage.instant(), say=say_in(stage.zone, pictures=True), channel=CHANNEL, user_id=step.name,
    )  # fmt: skip
    _print_outbox(stage, timed=False)


def _pass_time(stage: Stage, step: Step) -> None:
    target = read_clock(step.text, stage.now, stage.file, step.line)
    if stage.now is not None and target < stage.now:
        raise ScriptFault(stage.file, step.line, "time does not run backwards")
    if stage.crew is None:
        stage.now = target
        return
    end = target.replace(tzinfo=stage.zone).astimezone(UTC)
    for _ in range(LOOKS_AT_MOST):
        due_at = next_due_at(stage.store, stage.crew, stage.instant() - timedelta(minutes=1))
        if due_at is None or due_at > end:
            break
        stage.now = max(due_at, stage.instant()).astimezone(stage.zone).replace(tzinfo=None)
        before = len(stage.said)
        tick(stage.store, stage.instant())
        _print_outbox(stage, timed=True)
        if len(stage.said) == before:
            stage.now += timedelta(minutes=1)
    stage.now = max(stage.now or target, target)


def _print_outbox(stage: Stage, *, timed: bool) -> None:
    while waiting := stage.store.outbox_due(stage.instant(), limit=50, channel=CHANNEL):
        for message in waiting:
            sent = replace(message, sent_message_id=f"b{len(stage.said) + 1}")
            stage.store.outbox_state(message.number, "sent", sent_message_id=sent.sent_message_id, at=stage.instant())
            stage.said.append(sent)
            stage.printed.extend(_as_lines(stage, sent, timed))


def _as_lines(stage: Stage, message: OutboxMessage, timed: bool) -> list[str]:
    private = f", private to {message.chat.removeprefix('private:')}" if message.chat != GROUP else ""
    at = f" ({stage.now:%Y-%m-%d %H:%M})" if timed else ""
    lines = message.text.split("\n")
    if message.document:
        lines.append(f"<{_shown(stage, message.document)}>")
    if message.buttons:
        lines.append(" ".join(f"[{label}]" for label, _ in message.buttons))
    return [f"bot{private}{at}: {lines[0]}", *(f"  {line}" for line in lines[1:])]


def _shown(stage: Stage, name: str) -> str:
    """A picture's name with its size, drawn as a channel would draw it, and thrown away."""
    facts = facts_for(stage.store, name)
    if facts is None:
        return name
    with TemporaryDirectory() as folder:
        return f"{name}, {size_of(draw(name, facts, Path(folder)))}"
