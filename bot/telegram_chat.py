"""Who said it, in which crew, and is it new? What came from Telegram becomes one turn of talk.

Rules
1. In private: members are heard; whoever sends a crew's code becomes one; others get one sentence.
2. A group becomes a crew's when the crew's lead speaks in it or lets the bot in. Whoever writes there is a member from
   then on. A second group only where the lead calls the bot in it or lets it in. Other groups are not answered at all.
3. An edit that changes no words, or that is older than what is known, changes nothing; neither does the first version
   of a message whose edit came before it.
4. A group that was moved keeps its crew; what was still said under the old name is answered under the new one.
5. The pictures of an album after its first are kept with the lots that the first one named, without a word.
"""

from __future__ import annotations

import hmac
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from typing import assert_never

from bot.telegram_updates import Came, Moving, Note, Nothing, Press, Standing
from bot.wording.delivery import COULD_NOT_WORK
from core.conversation import Message, Say, Turn
from core.conversation.admission import free_name, turn_away
from core.storage import Crew, Member, Store

CHANNEL = "telegram"
UNNAMED_CREWS = ("The bench",)
"""Names that `serve` and `chat` give a crew before it has one; the first group's title takes their place."""

TakeTurn = Callable[[Store, int, Message, datetime, Say], Turn]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Place:
    crew: Crew
    member: Member
    chat: str
    message_id: str


def move_group(store: Store, old: str, new: str) -> None:
    """Lets a crew's group keep its crew under another name."""
    crew = store.crew_of_chat(CHANNEL, old)
    if crew is None:
        return
    with store.books(crew.number) as books:
        books.settle(f"{CHANNEL}_moved:{old}", new)
    store.move_chat(CHANNEL, old, new)


class TelegramChat:
    """Telegram's side of the conversation; every call is one or a few transactions, none of them waits for Telegram."""

    def __init__(self, store: Store, take_turn: TakeTurn, say_in: Callable[..., Say]) -> None:
        self._store = store
        self._take_turn = take_turn
        self._say_in = say_in

    def hear(self, came: Came, now: datetime) -> bool:
        """Takes in what came; True where somebody of a crew spoke. Whatever is to be answered stands in the outbox."""
        match came:
            case Note():
                return self._hear_note(came, now)
            case Press():
                return self._hear_press(came, now)
            case Standing():
                self._note_standing(came)
                return False
            case Moving():
                move_group(self._store, came.old, came.new)
                return False
            case Nothing():
                return False
            case _:
                assert_never(came)

    def own_failure(self, came: Came, now: datetime) -> None:
        """Keeps the words of a note whose turn failed, and says so to whoever sent it."""
        if not isinstance(came, Note | Press):
            return
        place = self._place(came)
        if place is None:
            return
        with self._store.books(place.crew.number) as books:
            _, first_time = books.hear(
                {
                    "channel": CHANNEL, "chat": place.chat, "message_id": place.message_id,
                    "edit": came.edit if isinstance(came, Note) else 0, "speaker": place.member.name,
                    "text": came.text if isinstance(came, Note) else "",
                    "said_at": came.said_at if isinstance(came, Note) else now,
                },
                now,
            )  # fmt: skip
            if first_time:
                books.post(
                    chat=place.chat, text=COULD_NOT_WORK, at=now, reply_to=place.message_id, channel=CHANNEL
                )  # fmt: skip

    def buttons_left(self, press: Press) -> tuple[tuple[str, str], ...]:
        """The buttons that still make sense under a message after this press."""
        crew = self._store.crew_of_chat(CHANNEL, press.chat)
        if crew is None:
            return press.buttons
        with self._store.reading(crew.number) as books:
            actions = {token: books.pressed(token) or {} for _, token in press.buttons}
        pressed = actions.get(press.token, {})
        return tuple(
            (label, token)
            for label, token in press.buttons
            if token != press.token and not _same_matter(actions[token], pressed)
        )

    # -- notes and presses

    def _hear_note(self, note: Note, now: datetime) -> bool:
        if note.private and self._let_in(note, now):
            return True
        place = self._place(note)
        if place is None:
            return False
        if note.album is not None and note.photo is not None and self._keep_of_album(note, place, now):
            return True
        edit = self._version(note, place)
        if edit is None:
            return True
        message = Message(
            channel=CHANNEL,
            chat=place.chat,
            message_id=place.message_id,
            edit=edit,
            speaker=place.member.name,
            text=note.text if self._crew_by_code(note) is None else "hello",
            said_at=note.said_at,
            private=note.private,
            replied_to=note.replied_to,
            photo=note.photo,
        )
        self._take_turn(self._store, place.crew.number, message, now, self._say_in(place.crew.zone))
        return True

    def _hear_press(self, press: Press, now: datetime) -> bool:
        place = self._place(press)
        if place is None:
            return False
        message = Message(
            channel=CHANNEL, chat=place.chat, message_id=place.message_id, speaker=place.member.name, said_at=now,
            private=press.private, replied_to=press.under, pressed=press.token,
        )  # fmt: skip
        self._take_turn(self._store, place.crew.number, message, now, self._say_in(place.crew.zone))
        return True

    def _keep_of_album(self, note: Note, place: _Place, now: datetime) -> bool:
        """Keeps a picture that belongs to the last album of this chat; False for an album's first, and for words."""
        key = f"{CHANNEL}_album:{place.chat}"
        with self._store.books(place.crew.number) as books:
            album, _, first = (books.setting(key) or "").partition(" ")
            if album != note.album:
                books.settle(key, f"{note.album} {place.message_id}")
                return False
            if note.text.strip() or first == place.message_id:
                return False
            _, new = books.hear(
                {
                    "channel": CHANNEL, "chat": place.chat, "message_id": place.message_id, "edit": 0,
                    "speaker": place.member.name, "text": "", "said_at": note.said_at,
                },
                now,
            )  # fmt: skip
            if new:
                about = books.spoken_of(place.chat, first)
                lots = [record.lot for record in about.records if record.lot] if about else []
                books.keep_photo(
                    file=note.photo or "", caption="", by=place.member.name, at=note.said_at, lots=dict.fromkeys(lots)
                )
            return True

    def _version(self, note: Note, place: _Place) -> int | None:
        """The edit number under which this version of a message is new; None where it changes nothing (rule 3)."""
        with self._store.reading(place.crew.number) as books:
            latest = books.message(place.chat, place.message_id)
            if latest is None:
                return note.edit
            if not note.edit:
                return None if latest.edit else 0
            if latest.text == note.text:
                return None
            edit = note.edit
            # Two edits within one second have the same date.
            while (known := books.heard(CHANNEL, place.chat, place.message_id, edit)) is not None:
                if known.text == note.text:
                    return None
                edit += 1
            return None if latest.edit > edit else edit

    # -- who and where

    def _let_in(self, note: Note, now: datetime) -> bool:
        """Answers somebody who is no member of any crew, or joins one by its code; False for a member's own note."""
        theirs = {crew.number for crew in self._store.crews_of_account(CHANNEL, note.account)}
        asked = self._crew_by_code(note)
        if (theirs and asked is None) or (asked is not None and asked.number in theirs):
            return False
        crew = asked or self._store.crews()[0]
        owner = self._store.crew_of_chat(CHANNEL, note.chat)
        if asked is not None and owner is not None and owner.number != asked.number:
            with self._store.books(owner.number) as books:
                books.forget_chat(CHANNEL, note.chat)
        turn_away(
            self._store, crew.number, channel=CHANNEL, user_id=note.account, name=note.first_name, chat=note.chat,
            message_id=note.message_id, text=crew.code if asked is not None else "", now=now,
            say=self._say_in(crew.zone),
        )  # fmt: skip
        return True

    def _crew_by_code(self, note: Note) -> Crew | None:
        """The crew whose code was sent in private, in any letter case and with blanks around it; a code is one word."""
        sent = note.code.strip().casefold().encode()
        if not note.private or note.edit or len(sent.split()) != 1:
            return None
        found = None
        for crew in self._store.crews():
            if hmac.compare_digest(sent, crew.code.casefold().encode()):
                found = crew
        return found

    def _place(self, came: Note | Press) -> _Place | None:
        """Whose talk it is, and under which names it is kept; None for strangers and other groups."""
        chat, message_id = came.chat, came.message_id if isinstance(came, Note) else f"q{came.query}"
        if came.private:
            crews = self._store.crews_of_account(CHANNEL, came.account)
            owner = self._store.crew_of_chat(CHANNEL, chat)
            crew = next((one for one in crews if owner is not None and one.number == owner.number), None)
            crew = crew or next(iter(crews), None)
        else:
            moved = self._moved_to(chat) if self._store.crew_of_chat(CHANNEL, chat) is None else None
            if moved is not None:
                chat, message_id = moved, f"{chat}.{message_id}"
            crew = self._store.crew_of_chat(CHANNEL, chat)
            addressed = isinstance(came, Note) and came.addressed
            crew = crew or self._bind(chat, came.title, came.account, on_purpose=addressed)
        if crew is None:
            return None
        return _Place(crew=crew, member=self._member(crew, came), chat=chat, message_id=message_id)

    def _member(self, crew: Crew, came: Note | Press) -> Member:
        with self._store.reading(crew.number) as books:
            known = books.member_of(CHANNEL, came.account)
        if known is not None and (not came.private or known.private_chat == came.chat):
            return known
        with self._store.books(crew.number) as books:
            if known is None:
                taken = {one.name for one in books.members() if one.user_id is not None}
                return books.join(free_name(came.first_name, taken), CHANNEL, came.account)
            return books.join(known.name, CHANNEL, came.account, known.role, private_chat=came.chat)

    # -- groups

    def _note_standing(self, standing: Standing) -> None:
        if standing.private:
            return
        crew = self._store.crew_of_chat(CHANNEL, standing.chat)
        if standing.inside and crew is None and self._moved_to(standing.chat) is None:
            self._bind(standing.chat, standing.title, standing.account, on_purpose=True)
        elif not standing.inside and crew is not None:
            with self._store.books(crew.number) as books:
                books.forget_chat(CHANNEL, standing.chat)

    def _bind(self, chat: str, title: str, account: str, *, on_purpose: bool) -> Crew | None:
        """Makes a group the crew's whose lead this account is, or returns None."""
        for crew in self._store.crews_of_account(CHANNEL, account):
            with self._store.books(crew.number) as books:
                member = books.member_of(CHANNEL, account)
                has_group = crew.group_channel == CHANNEL
                if member is None or member.role != "lead" or (has_group and not on_purpose):
                    continue
                if has_group:
                    books.know_chat(CHANNEL, chat, private=False)
                else:
                    books.meet_in(CHANNEL, chat)
                if title and crew.name in UNNAMED_CREWS:
                    books.name_crew(name=title)
                return crew
        return None

    def _moved_to(self, chat: str) -> str | None:
        for crew in self._store.crews():
            with self._store.reading(crew.number) as books:
                new = books.setting(f"{CHANNEL}_moved:{chat}")
            if new is not None:
                return new
        return None


def _same_matter(action: dict[str, object], pressed: dict[str, object]) -> bool:
    """True where two buttons decide the same: one question, or the same reminders."""
    if "question" in pressed:
        return action.get("question") == pressed["question"]
    told = ("done", "later", "skip")
    ours = next((pressed[word] for word in told if word in pressed), None)
    return ours is not None and any(action.get(word) == ours for word in told)
