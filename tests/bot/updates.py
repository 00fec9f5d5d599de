"""Updates as Telegram writes them, for a test to send: https://core.telegram.org/bots/api#update."""

from __future__ import annotations

from itertools import count
from typing import Any

from tests.bot.bot_api_stand_in import ACCOUNT, USERNAME

BEGAN = 1_770_720_000  # 10 February 2026, 10:40 UTC


class Mail:
    """Numbers updates and messages, and writes them."""

    def __init__(self, first: int = 700_000) -> None:
        self._updates = count(first)
        self._messages = count(10)
        self.BOT = {"id": ACCOUNT, "is_bot": True, "first_name": "Bench", "username": USERNAME}

    def update(self, **kind: Any) -> dict[str, Any]:
        return {"update_id": next(self._updates), **kind}

    def message(
        self, account: int, text: str | None = None, *, chat: int | None = None, name: str = "", **more: Any
    ) -> dict[str, Any]:
        """A message in private, or in a group (a negative `chat`)."""
        where = account if chat is None else chat
        message: dict[str, Any] = {
            "message_id": next(self._messages),
            "date": BEGAN,
            "from": {"id": account, "is_bot": False, "first_name": name or f"Person{account}"},
            "chat": self.chat(where),
        }
        if text is not None:
            message["text"] = text
        return message | more

    @staticmethod
    def chat(number: int) -> dict[str, Any]:
        if number > 0:
            return {"id": number, "type": "private", "first_name": f"Person{number}"}
        return {"id": number, "type": "supergroup", "title": "Plover Landing"}

    def say(self, account: int, text: str | None = None, **more: Any) -> dict[str, Any]:
        return self.update(message=self.message(account, text, **more))

    def edit(self, update: dict[str, Any], text: str, at: int) -> dict[str, Any]:
        return self.update(edited_message=update["message"] | {"text": text, "edit_date": BEGAN + at})

    def reply(self, account: int, text: str, to: int, *, chat: int | None = None, **more: Any) -> dict[str, Any]:
        """A reply to a message of the bot's."""
        where = account if chat is None else chat
        answered = {"message_id": to, "date": BEGAN, "from": self.BOT, "chat": self.chat(where), "text": "earlier"}
        return self.say(account, text, chat=chat, reply_to_message=answered, **more)

    def press(self, account: int, arrived: dict[str, Any], label: str, **more: Any) -> dict[str, Any]:
        """A press of a button of a message that arrived at the stand-in."""
        token = next(token for name, token in arrived["buttons"] if name == label)
        update = self.update()
        under = {
            "message_id": arrived["message_id"], "date": BEGAN, "from": self.BOT,
            "chat": self.chat(arrived["chat"]), "text": arrived["text"],
            "reply_markup": {"inline_keyboard": arrived["keyboard"]},
        }  # fmt: skip
        query = {
            "id": str(update["update_id"]), "from": {"id": account, "is_bot": False, "first_name": "P"},
            "message": under, "chat_instance": "1", "data": token,
        }  # fmt: skip
        return update | {"callback_query": query | more}

    def standing(self, account: int, chat: int, status: str) -> dict[str, Any]:
        """The bot was let in to a chat, or put out of it."""
        more = {"until_date": 0} if status == "kicked" else {}
        return self.update(
            my_chat_member={
                "chat": self.chat(chat), "from": {"id": account, "is_bot": False, "first_name": "P"}, "date": BEGAN,
                "old_chat_member": {"user": self.BOT, "status": "left"},
                "new_chat_member": {"user": self.BOT, "status": status, **more},
            }
        )  # fmt: skip
