"""Who belongs to a crew, in which chats it talks, what it has settled, which names it has used, and its pictures.

Rules
1. A chat belongs to one crew; whoever writes there is heard for that crew.
2. A member's name is theirs alone within the crew; a name from a roster becomes an account when that person joins.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from sqlalchemy import Connection, Row, delete, insert, select, update

from core.storage.faults import NameTaken, NoSuchCrew
from core.storage.room import Room
from core.storage.tables import (
    chats,
    crews,
    learned,
    members,
    outbox,
    photo_lots,
    photos,
    questions,
    reminders,
    settings,
)
from core.storage.values import ROLES, Crew, KnownNames, Member, Photo


def read_crews(connection: Connection, number: int | None = None) -> tuple[Crew, ...]:
    """All crews, or the one with this number, oldest first."""
    lead = (
        select(members.c.name)
        .where(members.c.crew_id == crews.c.id, members.c.role == "lead")
        .order_by(members.c.id)
        .limit(1)
        .scalar_subquery()
        .label("lead")
    )
    query = select(crews, lead).order_by(crews.c.id)
    if number is not None:
        query = query.where(crews.c.id == number)
    return tuple(
        Crew(
            number=row.id,
            name=row.name,
            zone=ZoneInfo(row.zone),
            code=row.code,
            lead=row.lead,
            group_channel=row.group_channel,
            group_chat=row.group_chat,
        )
        for row in connection.execute(query)
    )


def crew_of_chat(connection: Connection, channel: str, chat: str) -> int | None:
    """The crew that a chat belongs to, or None."""
    number: int | None = connection.execute(
        select(chats.c.crew_id).where(chats.c.channel == channel, chats.c.chat == chat)
    ).scalar()
    return number


def crews_of_account(connection: Connection, channel: str, user_id: str) -> tuple[int, ...]:
    """The crews that have a member who writes from this account."""
    query = select(members.c.crew_id).where(members.c.channel == channel, members.c.user_id == user_id)
    return tuple(connection.execute(query.order_by(members.c.crew_id)).scalars())


def move_chat(connection: Connection, channel: str, old: str, new: str) -> None:
    """Gives a chat its new name wherever something is still to come there; what was said keeps the old one.

    A group that grows into a supergroup starts its message ids anew, so messages already heard or sent must not take
    the new name: they would be mistaken for new ones.
    """
    crew = crew_of_chat(connection, channel, old)
    if crew is None:
        return
    if crew_of_chat(connection, channel, new) is None:
        connection.execute(update(chats).where(chats.c.channel == channel, chats.c.chat == old).values(chat=new))
    else:
        connection.execute(delete(chats).where(chats.c.channel == channel, chats.c.chat == old))
    connection.execute(
        update(crews)
        .where(crews.c.id == crew, crews.c.group_channel == channel, crews.c.group_chat == old)
        .values(group_chat=new)
    )
    connection.execute(
        update(outbox)
        .where(outbox.c.crew_id == crew, outbox.c.channel == channel, outbox.c.chat == old)
        .where(outbox.c.state.in_(("waiting", "sending")))
        .values(chat=new, reply_to=None)
    )
    connection.execute(update(questions).where(questions.c.crew_id == crew, questions.c.chat == old).values(chat=new))
    for column in ("chat", "said_chat"):
        connection.execute(
            update(reminders)
            .where(reminders.c.crew_id == crew, reminders.c[column] == old)
            .values({column: new})
        )  # fmt: skip


class Crews(Room):
    """The crew itself: members, chats, settings, names and pictures."""

    @property
    def crew(self) -> Crew:
        """The crew as it is now. Raises NoSuchCrew."""
        found = read_crews(self._connection, self._crew_id)
        if not found:
            raise NoSuchCrew(f"there is no crew {self._crew_id}")
        return found[0]

    def name_crew(self, *, name: str | None = None, zone: ZoneInfo | None = None, code: str | None = None) -> None:
        """Gives the crew another name, zone or code."""
        given = {"name": name, "zone": None if zone is None else zone.key, "code": code}
        values = {key: value for key, value in given.items() if value is not None}
        if values:
            self._connection.execute(update(crews).where(crews.c.id == self._crew_id).values(**values))

    def meet_in(self, channel: str, chat: str) -> None:
        """Makes a chat the one that the crew's reminders go to."""
        self.know_chat(channel, chat, private=False)
        self._connection.execute(
            update(crews).where(crews.c.id == self._crew_id).values(group_channel=channel, group_chat=chat)
        )

    def know_chat(self, channel: str, chat: str, *, private: bool | None = None) -> None:
        """Counts a chat among this crew's; one that another crew has stays theirs."""
        row = self._connection.execute(
            select(chats).where(chats.c.channel == channel, chats.c.chat == chat)
        ).first()  # fmt: skip
        if row is None:
            self._add(chats, channel=channel, chat=chat, private=bool(private))
        elif private is not None and row.private != private:
            self._change(chats, row.id, {"private": private})

    def forget_chat(self, channel: str, chat: str) -> None:
        """Lets go of a chat, so that another crew can have it."""
        here = (chats.c.crew_id == self._crew_id, chats.c.channel == channel, chats.c.chat == chat)
        self._connection.execute(delete(chats).where(*here))
        meets_here = (crews.c.id == self._crew_id, crews.c.group_channel == channel, crews.c.group_chat == chat)
        self._connection.execute(update(crews).where(*meets_here).values(group_channel=None, group_chat=None))

    # -- members

    def members(self) -> tuple[Member, ...]:
        """Everybody of the crew, by the order in which they joined."""
        rows = self._rows(select(members).where(members.c.crew_id == self._crew_id).order_by(members.c.id))
        return tuple(_member(row) for row in rows)

    def member(self, name: str) -> Member | None:
        """The member with this name, in any letter case."""
        wanted = name.casefold()
        return next((one for one in self.members() if one.name.casefold() == wanted), None)

    def member_of(self, channel: str, user_id: str) -> Member | None:
        """The member who writes from this account."""
        row = self._row(
            select(members).where(
                members.c.crew_id == self._crew_id, members.c.channel == channel, members.c.user_id == user_id
            )
        )
        return None if row is None else _member(row)

    def join(
        self,
        name: str,
        channel: str | None = None,
        user_id: str | None = None,
        role: str = "member",
        *,
        private_chat: str | None = None,
    ) -> Member:
        """Makes somebody a member, or changes name, role or private chat of one who is. Raises NameTaken."""
        if role not in ROLES:
            raise ValueError(f"nobody's role is {role!r}")
        here = self.member_of(channel, user_id) if channel is not None and user_id is not None else None
        same_name = self.member(name)
        if same_name is not None and same_name.user_id is not None and user_id is not None and same_name != here:
            raise NameTaken(f"{name} is somebody else's name in this crew", words=name)
        known = here or same_name
        values: dict[str, Any] = {"name": name, "role": role}
        if user_id is not None:
            values |= {"channel": channel, "user_id": user_id}
        if private_chat is not None:
            values["private_chat"] = private_chat
            if channel is not None:
                self.know_chat(channel, private_chat, private=True)
        if here is not None and same_name is not None and same_name != here:
            self._connection.execute(delete(members).where(members.c.id == same_name.number))
        if known is None:
            number = self._add(members, **values)
        else:
            number = known.number
            self._change(members, number, values)
        row = self._row(select(members).where(members.c.crew_id == self._crew_id, members.c.id == number))
        assert row is not None
        return _member(row)

    def leave(self, name: str) -> None:
        """Takes somebody off the list of members; what they recorded keeps their name."""
        gone = self.member(name)
        if gone is not None:
            self._connection.execute(
                delete(members).where(members.c.crew_id == self._crew_id, members.c.id == gone.number)
            )

    # -- settings and names

    def setting(self, key: str) -> str | None:
        """What the crew has settled under this key, or None."""
        row = self._row(select(settings.c.text).where(settings.c.crew_id == self._crew_id, settings.c.key == key))
        return None if row is None else str(row.text)

    def settle(self, key: str, text: str) -> None:
        """Settles something under a key, in the place of what stood there."""
        here = (settings.c.crew_id == self._crew_id, settings.c.key == key)
        if self._connection.execute(update(settings).where(*here).values(text=text)).rowcount == 0:
            self._connection.execute(insert(settings).values(crew_id=self._crew_id, key=key, text=text))

    def unsettle(self, key: str) -> None:
        """Forgets what was settled under a key."""
        self._connection.execute(delete(settings).where(settings.c.crew_id == self._crew_id, settings.c.key == key))

    def learn(self, kind: str, name: str) -> None:
        """Remembers a name (kind `plant`, `person`, `place` or `source`) that the crew has used."""
        known = self._row(
            select(learned.c.id).where(
                learned.c.crew_id == self._crew_id, learned.c.kind == kind, learned.c.name == name
            )
        )
        if known is None:
            self._add(learned, kind=kind, name=name)

    def names(self) -> KnownNames:
        """The names that the crew has used, with those of its members among the people."""
        rows = self._rows(select(learned).where(learned.c.crew_id == self._crew_id).order_by(learned.c.id))
        of = {
            kind: tuple(row.name for row in rows if row.kind == kind) for kind in ("plant", "person", "place", "source")
        }
        people = dict.fromkeys((*(one.name for one in self.members()), *of["person"]))
        return KnownNames(plants=of["plant"], people=tuple(people), places=of["place"], sources=of["source"])

    # -- pictures

    def keep_photo(self, *, file: str, caption: str, by: str, at: datetime, lots: Iterable[str] = ()) -> int:
        """Keeps a picture by the channel's name of its file, with the lots it belongs to; returns its number."""
        number = self._add(photos, file=file, caption=caption, sent_by=by, at=at)
        rows = [{"crew_id": self._crew_id, "lot": lot, "photo_id": number} for lot in dict.fromkeys(lots)]
        if rows:
            self._connection.execute(insert(photo_lots), rows)
        return number

    def photos(self, lot: str | None = None) -> tuple[Photo, ...]:
        """The crew's pictures, or a lot's, oldest first."""
        query = select(photos).where(photos.c.crew_id == self._crew_id).order_by(photos.c.at, photos.c.id)
        if lot is not None:
            query = query.join(photo_lots, photo_lots.c.photo_id == photos.c.id).where(
                photo_lots.c.crew_id == self._crew_id, photo_lots.c.lot == lot
            )
        rows = self._rows(query)
        named = self._rows(
            select(photo_lots).where(
                photo_lots.c.crew_id == self._crew_id, photo_lots.c.photo_id.in_([row.id for row in rows])
            )
        )
        return tuple(
            Photo(
                number=row.id,
                file=row.file,
                caption=row.caption,
                by=row.sent_by,
                at=row.at,
                lots=tuple(sorted(one.lot for one in named if one.photo_id == row.id)),
            )
            for row in rows
        )


def _member(row: Row[Any]) -> Member:
    return Member(
        number=row.id,
        name=row.name,
        role=row.role,
        channel=row.channel,
        user_id=row.user_id,
        private_chat=row.private_chat,
    )
