"""Which questions the bot has asked and still waits for.

Rules
1. A new question closes those before it of the same chat and speaker, unless it is put beside them.
2. A question that has expired is not open any more; it stays readable by its number until it is closed.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from sqlalchemy import Row, select, update

from core.storage.journal import Journal
from core.storage.tables import questions
from core.storage.values import OpenQuestion


class QuestionRows(Journal):
    """The questions of one crew."""

    def ask(
        self,
        *,
        chat: str,
        speaker: str,
        kind: str,
        draft: Mapping[str, Any],
        asked_at: datetime,
        expires_at: datetime,
        outbox: int | None = None,
        beside: bool = False,
    ) -> int:
        """Keeps a question and what it is about (JSON values); returns its number.

        `draft["message"]`, where there is one, is the key of the message that the question belongs to.
        """
        if not beside:
            self._close((questions.c.chat == chat) & (questions.c.speaker == speaker))
        return self._add(
            questions,
            chat=chat,
            speaker=speaker,
            kind=kind,
            draft=dict(draft),
            message_key=draft.get("message"),
            asked_at=asked_at,
            expires_at=expires_at,
            outbox_id=outbox,
            closed=False,
        )

    def open_question(self, chat: str, speaker: str, now: datetime) -> OpenQuestion | None:
        """The question that this speaker has to answer in this chat, the latest of several, or None."""
        return next(iter(self.open_questions(chat, speaker, now)), None)

    def open_questions(self, chat: str, speaker: str, now: datetime) -> tuple[OpenQuestion, ...]:
        """All questions that this speaker has to answer in this chat, the latest first."""
        return self._latest_first(
            questions.c.chat == chat,
            questions.c.speaker == speaker,
            questions.c.closed.is_(False),
            questions.c.expires_at > now,
        )

    def questions_to_others(self, chat: str, speaker: str, now: datetime) -> tuple[OpenQuestion, ...]:
        """All questions that others than this speaker have to answer in this chat, the latest first."""
        return self._latest_first(
            questions.c.chat == chat,
            questions.c.speaker != speaker,
            questions.c.closed.is_(False),
            questions.c.expires_at > now,
        )

    def question(self, number: int) -> OpenQuestion | None:
        """The question with this number, where it has not been closed."""
        row = self._row(
            select(questions).where(
                questions.c.crew_id == self._crew_id, questions.c.id == number, questions.c.closed.is_(False)
            )
        )
        return None if row is None else _question(row)

    def question_about(self, message: str) -> OpenQuestion | None:
        """The question that the message with this key gave rise to, where it has not been closed."""
        row = self._row(
            select(questions)
            .where(
                questions.c.crew_id == self._crew_id, questions.c.message_key == message, questions.c.closed.is_(False)
            )
            .order_by(questions.c.id.desc())
        )
        return None if row is None else _question(row)

    def closed_questions(self, chat: str, speaker: str, *, since: datetime) -> tuple[OpenQuestion, ...]:
        """What this speaker was asked in this chat since then and waits for no answer now, the latest first."""
        return self._latest_first(
            questions.c.chat == chat,
            questions.c.speaker == speaker,
            questions.c.closed.is_(True),
            questions.c.asked_at >= since,
        )

    def close_question(self, number: int) -> None:
        """Closes a question: answered, dropped or overtaken."""
        self._close(questions.c.id == number)

    def close_question_of(self, message: str) -> None:
        """Closes the questions that a message (in any of its edits) gave rise to."""
        self._close(questions.c.message_key.in_(self._keys_of_edits(message)))

    def _latest_first(self, *which: Any) -> tuple[OpenQuestion, ...]:
        rows = self._connection.execute(
            select(questions).where(questions.c.crew_id == self._crew_id, *which).order_by(questions.c.id.desc())
        ).all()
        return tuple(_question(row) for row in rows)

    def _close(self, which: Any) -> None:
        self._connection.execute(
            update(questions)
            .where(questions.c.crew_id == self._crew_id, questions.c.closed.is_(False), which)
            .values(closed=True)
        )


def _question(row: Row[Any]) -> OpenQuestion:
    return OpenQuestion(
        number=row.id,
        chat=row.chat,
        speaker=row.speaker,
        kind=row.kind,
        draft=row.draft,
        asked_at=row.asked_at,
        expires_at=row.expires_at,
        outbox=row.outbox_id,
    )
