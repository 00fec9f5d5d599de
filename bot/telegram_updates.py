"""What is in an update of Telegram's? Raw JSON becomes a note, a press, a change of the chat, or nothing for us.

Rules
1. What cannot be read raises Unreadable and nothing else, whatever is wrong with it.
2. A command is its words: "/start" greets, "/misted tray 2" is "misted tray 2"; one for another bot is not for us.
3. What people send without words (a sticker, a voice) is a note without words; what Telegram itself notes in a chat
   (somebody joined, a pinned message) is nothing.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

from core.errors import BenchError

if TYPE_CHECKING:
    import telegram

COMMANDS: Mapping[str, str] = MappingProxyType(
    {
        "start": "hello",
        "help": "help",
        "due": "what's due",
        "open": "what is open now?",
        "lots": "which lots are open",
    }
)
"""Commands whose words are not their own name."""

_COMMAND = re.compile(r"/([A-Za-z0-9_]+)(?:@(\w+))?(?:\s+(.*))?", re.DOTALL)
_FILE_ID = re.compile(r"[\w-]{1,200}", re.ASCII)
_PICTURES = {"image/jpeg": ".jpg", "image/png": ".png", "image/webp": ".webp", "image/heic": ".heic"}
_INSIDE = frozenset({"creator", "administrator", "member", "restricted"})


class Unreadable(BenchError):
    """An update that cannot be made out."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Me:
    """The bot's own account."""

    account: int
    username: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Note:
    """Something that somebody wrote or sent. `code` is what may be a crew's code; `addressed` is said to the bot."""

    chat: str
    private: bool
    title: str
    account: str
    first_name: str
    message_id: str
    said_at: datetime
    text: str
    code: str
    edit: int = 0
    replied_to: str | None = None
    photo: str | None = None
    album: str | None = None
    addressed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Press:
    """A button that somebody pressed, and the message that it stands under with its buttons (label, token)."""

    chat: str
    private: bool
    title: str
    account: str
    first_name: str
    query: str
    token: str
    under: str
    buttons: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """The bot was let in to a chat, or is no longer in it; by whom."""

    chat: str
    private: bool
    title: str
    account: str
    inside: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Moving:
    """A group has another name from now on."""

    old: str
    new: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Nothing:
    """Nothing for us, and why."""

    why: str


Came = Note | Press | Standing | Moving | Nothing


def read_update(raw: Any, bot: telegram.Bot | None, me: Me) -> Came:
    """What the update holds. Raises Unreadable."""
    if not isinstance(raw, dict) or not isinstance(raw.get("update_id"), int):
        raise Unreadable("an update without a number")
    try:
        import telegram

        update = telegram.Update.de_json(raw, bot)
        return _came(update, me)
    except Exception as wrong:
        # Any fault may come of a broken update; none of them may stop those after it.
        raise Unreadable(f"{type(wrong).__name__}: {wrong}"[:300]) from wrong


def _came(update: telegram.Update, me: Me) -> Came:
    if update.message is not None:
        return _from_message(update.message, me, edited=False)
    if update.edited_message is not None:
        return _from_message(update.edited_message, me, edited=True)
    if update.callback_query is not None:
        return _from_press(update.callback_query)
    if update.my_chat_member is not None:
        change = update.my_chat_member
        return Standing(
            chat=_number(change.chat.id),
            private=change.chat.type == "private",
            title=change.chat.title or "",
            account=_number(change.from_user.id),
            inside=change.new_chat_member.status in _INSIDE and getattr(change.new_chat_member, "is_member", True),
        )
    return Nothing(why="a kind of update that is not for us")


def _from_message(message: telegram.Message, me: Me, *, edited: bool) -> Came:
    chat = _number(message.chat.id)
    if message.migrate_to_chat_id:
        return Moving(old=chat, new=_number(message.migrate_to_chat_id))
    if message.migrate_from_chat_id:
        return Moving(old=_number(message.migrate_from_chat_id), new=chat)
    if message.chat.type not in ("private", "group", "supergroup"):
        return Nothing(why="a channel")
    sender = _sender(message)
    if sender is None:
        return Nothing(why="no person wrote it")
    text = message.text if message.text is not None else message.caption
    if text is None and not message.effective_attachment:
        return Nothing(why="a service message")
    if not isinstance(text or "", str) or not isinstance(sender[1], str) or not isinstance(message.date, datetime):
        raise TypeError("words, name or date are none")
    words, code, called = words_of(text or "", me.username)
    if words is None:
        return Nothing(why="a command for another bot")
    answered = message.reply_to_message
    to_me = answered is not None and answered.from_user is not None and answered.from_user.id == me.account
    edit = int(message.edit_date.timestamp()) if edited and message.edit_date else int(edited)
    return Note(
        chat=chat,
        private=message.chat.type == "private",
        title=str(message.chat.title or ""),
        account=sender[0],
        first_name=sender[1],
        message_id=_number(message.message_id),
        said_at=message.date,
        text=words,
        code=code,
        edit=edit,
        replied_to=_number(answered.message_id) if answered is not None else None,
        photo=None if edited else _picture(message),
        album=str(message.media_group_id) if message.media_group_id else None,
        addressed=called or to_me,
    )


def _sender(message: telegram.Message) -> tuple[str, str] | None:
    """Account and first name; an administrator who writes as the group is the group's own account."""
    if message.sender_chat is not None:
        if message.sender_chat.id == message.chat.id:
            return _number(message.sender_chat.id), message.author_signature or "someone"
        return None
    if message.from_user is None or message.from_user.is_bot:
        return None
    return _number(message.from_user.id), message.from_user.first_name or ""


def words_of(text: str, username: str) -> tuple[str | None, str, bool]:
    """The words of a message for us, what may be a code in it, and whether it calls the bot; None for another bot's."""
    found = _COMMAND.fullmatch(text.strip())
    if found is not None:
        command, whose, rest = found.group(1).lower(), found.group(2), (found.group(3) or "").strip()
        if whose is not None and whose.casefold() != username.casefold():
            return None, "", False
        if command in COMMANDS:
            asks_more = rest if command not in ("start", "help") else ""
            return f"{COMMANDS[command]} {asks_more}".strip(), rest, True
        return f"{command.replace('_', ' ')} {rest}".strip(), "", True
    mention = re.compile(rf"(?<!\w)@{re.escape(username)}\b[,:]?", re.IGNORECASE)
    bare = mention.sub("", text) if username else text
    called = bare != text
    return (bare.strip() if called else text), bare.strip(), called


def _picture(message: telegram.Message) -> str | None:
    """Where the picture belongs in the media folder, from which its file can be asked for again."""
    if message.photo:
        file_id, ending = max(message.photo, key=lambda size: size.width * size.height).file_id, ".jpg"
    elif message.document is not None and message.document.mime_type in _PICTURES:
        file_id, ending = message.document.file_id, _PICTURES[message.document.mime_type]
    else:
        return None
    return f"telegram/{file_id}{ending}" if _FILE_ID.fullmatch(file_id) else None


def _from_press(query: telegram.CallbackQuery) -> Came:
    message = query.message
    if message is None or not query.data:
        return Nothing(why="a press without a message")
    markup = getattr(message, "reply_markup", None)
    rows = markup.inline_keyboard if markup is not None else ()
    return Press(
        chat=_number(message.chat.id),
        private=message.chat.type == "private",
        title=message.chat.title or "",
        account=_number(query.from_user.id),
        first_name=query.from_user.first_name or "",
        query=str(query.id),
        token=query.data,
        under=_number(message.message_id),
        buttons=tuple((one.text, str(one.callback_data)) for row in rows for one in row if one.callback_data),
    )


def _number(given: Any) -> str:
    """A number of Telegram's as text. Raises TypeError where it is none."""
    if not isinstance(given, int) or isinstance(given, bool):
        raise TypeError(f"{given!r} is no number")
    return str(given)
