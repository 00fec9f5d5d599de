"""The first books: crews, messages, records, lots, reminders, questions, the outbox and pictures."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    _lay_crew()
    _lay_chat()
    _lay_learned()
    _lay_lot()
    _lay_member()
    _lay_message()
    _lay_outbox()
    _lay_photo()
    _lay_question()
    _lay_record()
    _lay_refused_update()
    _lay_reminder()
    _lay_setting()
    _lay_button()
    _lay_lot_tray()
    _lay_outbox_record()
    _lay_outbox_reminder()
    _lay_photo_lot()
    _lay_record_tray()


def _lay_crew() -> None:
    op.create_table(
        "crew",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("zone", sa.Text(), nullable=False),
        sa.Column("code", sa.Text(), nullable=False),
        sa.Column("group_channel", sa.Text(), nullable=True),
        sa.Column("group_chat", sa.Text(), nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_crew"),
        sa.UniqueConstraint("code", name="uq_crew_code"),
    )


def _lay_chat() -> None:
    op.create_table(
        "chat",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("crew_id", sa.Integer(), nullable=False),
        sa.Column("channel", sa.Text(), nullable=False),
        sa.Column("chat", sa.Text(), nullable=False),
        sa.Column("private", sa.Boolean(), nullable=False),
        sa.Column("parked_at", sa.DateTime(timezone=True), nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_chat"),
        sa.UniqueConstraint("channel", "chat", name="uq_chat_channel_chat"),
        sa.ForeignKeyConstraint(["crew_id"], ["crew.id"], name="fk_chat_crew_id"),
    )
    op.create_index("ix_chat_crew_id_chat", "chat", ["crew_id", "chat"])


def _lay_learned() -> None:
    op.create_table(
        "learned",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("crew_id", sa.Integer(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_learned"),
        sa.UniqueConstraint("crew_id", "kind", "name", name="uq_learned_crew_id_kind_name"),
        sa.ForeignKeyConstraint(["crew_id"], ["crew.id"], name="fk_learned_crew_id"),
    )


def _lay_lot() -> None:
    op.create_table(
        "lot",
        sa.Column("crew_id", sa.Integer(), nullable=False),
        sa.Column("number", sa.Text(), nullable=False),
        sa.Column("year", sa.Integer(), nullable=False),
        sa.Column("serial", sa.Integer(), nullable=True),
        sa.Column("tail", sa.Text(), nullable=False),
        sa.Column("plant", sa.Text(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("stage", sa.Text(), nullable=False),
        sa.Column("closed", sa.Boolean(), nullable=False),
        sa.Column("opened_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("body", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("crew_id", "number", name="pk_lot"),
        sa.ForeignKeyConstraint(["crew_id"], ["crew.id"], name="fk_lot_crew_id"),
    )
    op.create_index("ix_lot_crew_id_closed_opened_at", "lot", ["crew_id", "closed", "opened_at"])
    op.create_index("ix_lot_crew_id_plant", "lot", ["crew_id", "plant"])
    op.create_index("ix_lot_crew_id_tail", "lot", ["crew_id", "tail"])
    op.create_index("ix_lot_crew_id_year_serial", "lot", ["crew_id", "year", "serial"])


def _lay_member() -> None:
    op.create_table(
        "member",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("crew_id", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("role", sa.Text(), nullable=False),
        sa.Column("channel", sa.Text(), nullable=True),
        sa.Column("user_id", sa.Text(), nullable=True),
        sa.Column("private_chat", sa.Text(), nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_member"),
        sa.UniqueConstraint("crew_id", "channel", "user_id", name="uq_member_crew_id_channel_user_id"),
        sa.UniqueConstraint("crew_id", "name", name="uq_member_crew_id_name"),
        sa.ForeignKeyConstraint(["crew_id"], ["crew.id"], name="fk_member_crew_id"),
        sa.CheckConstraint("role in ('lead', 'member')", name=op.f("ck_member_known_role")),
    )
    op.create_index("ix_member_channel_user_id", "member", ["channel", "user_id"])


def _lay_message() -> None:
    op.create_table(
        "message",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("crew_id", sa.Integer(), nullable=False),
        sa.Column("key", sa.Text(), nullable=False),
        sa.Column("channel", sa.Text(), nullable=False),
        sa.Column("chat", sa.Text(), nullable=False),
        sa.Column("message_id", sa.Text(), nullable=False),
        sa.Column("edit", sa.Integer(), nullable=False),
        sa.Column("speaker", sa.Text(), nullable=False),
        sa.Column("text", sa.Text(), nullable=False),
        sa.Column("said_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("heard_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("replied_to", sa.Text(), nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_message"),
        sa.UniqueConstraint(
            "crew_id", "channel", "chat", "message_id", "edit", name="uq_message_crew_id_channel_chat_message_id_edit"
        ),
        sa.UniqueConstraint("crew_id", "key", name="uq_message_crew_id_key"),
        sa.ForeignKeyConstraint(["crew_id"], ["crew.id"], name="fk_message_crew_id"),
    )
    op.create_index("ix_message_crew_id_chat_said_at", "message", ["crew_id", "chat", "said_at"])


def _lay_outbox() -> None:
    op.create_table(
        "outbox",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("crew_id", sa.Integer(), nullable=False),
        sa.Column("channel", sa.Text(), nullable=False),
        sa.Column("chat", sa.Text(), nullable=False),
        sa.Column("text", sa.Text(), nullable=False),
        sa.Column("buttons", sa.Text(), nullable=False),
        sa.Column("reply_to", sa.Text(), nullable=True),
        sa.Column("document", sa.Text(), nullable=True),
        sa.Column("answers", sa.Text(), nullable=True),
        sa.Column("state", sa.Text(), nullable=False),
        sa.Column("posted_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("not_before", sa.DateTime(timezone=True), nullable=True),
        sa.Column("retry_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("claimed_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("tries", sa.Integer(), nullable=False),
        sa.Column("doubtful", sa.Boolean(), nullable=False),
        sa.Column("sent_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("sent_message_id", sa.Text(), nullable=True),
        sa.Column("trouble", sa.Text(), nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_outbox"),
        sa.ForeignKeyConstraint(["crew_id"], ["crew.id"], name="fk_outbox_crew_id"),
        sa.CheckConstraint(
            "state in ('waiting', 'sending', 'sent', 'unknown', 'refused', 'unreachable')",
            name=op.f("ck_outbox_known_state"),
        ),
    )
    op.create_index("ix_outbox_crew_id_answers", "outbox", ["crew_id", "answers"])
    op.create_index("ix_outbox_crew_id_chat_sent_message_id", "outbox", ["crew_id", "chat", "sent_message_id"])
    op.create_index("ix_outbox_state_channel_chat_id", "outbox", ["state", "channel", "chat", "id"])


def _lay_photo() -> None:
    op.create_table(
        "photo",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("crew_id", sa.Integer(), nullable=False),
        sa.Column("file", sa.Text(), nullable=False),
        sa.Column("caption", sa.Text(), nullable=False),
        sa.Column("sent_by", sa.Text(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_photo"),
        sa.ForeignKeyConstraint(["crew_id"], ["crew.id"], name="fk_photo_crew_id"),
    )
    op.create_index("ix_photo_crew_id_at", "photo", ["crew_id", "at"])


def _lay_question() -> None:
    op.create_table(
        "question",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("crew_id", sa.Integer(), nullable=False),
        sa.Column("chat", sa.Text(), nullable=False),
        sa.Column("speaker", sa.Text(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("draft", sa.Text(), nullable=False),
        sa.Column("message_key", sa.Text(), nullable=True),
        sa.Column("asked_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("expires_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("outbox_id", sa.Integer(), nullable=True),
        sa.Column("closed", sa.Boolean(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_question"),
        sa.ForeignKeyConstraint(["crew_id"], ["crew.id"], name="fk_question_crew_id"),
    )
    op.create_index("ix_question_crew_id_chat_speaker_closed", "question", ["crew_id", "chat", "speaker", "closed"])
    op.create_index("ix_question_crew_id_message_key", "question", ["crew_id", "message_key"])


def _lay_record() -> None:
    op.create_table(
        "record",
        sa.Column("crew_id", sa.Integer(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False, autoincrement=False),
        sa.Column("act", sa.Text(), nullable=False),
        sa.Column("lot", sa.Text(), nullable=True),
        sa.Column("plant", sa.Text(), nullable=True),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("said_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("done_by", sa.Text(), nullable=False),
        sa.Column("told_by", sa.Text(), nullable=False),
        sa.Column("said", sa.Text(), nullable=False),
        sa.Column("message_key", sa.Text(), nullable=False),
        sa.Column("reminder_key", sa.Text(), nullable=True),
        sa.Column("superseded_by", sa.Integer(), nullable=True),
        sa.Column("taken_back", sa.Boolean(), nullable=False),
        sa.Column("stands", sa.Boolean(), nullable=False),
        sa.Column("trays", sa.Text(), nullable=False),
        sa.Column("entry", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("crew_id", "number", name="pk_record"),
        sa.ForeignKeyConstraint(["crew_id"], ["crew.id"], name="fk_record_crew_id"),
    )
    op.create_index("ix_record_crew_id_act_at", "record", ["crew_id", "act", "at"])
    op.create_index("ix_record_crew_id_at", "record", ["crew_id", "at"])
    op.create_index("ix_record_crew_id_lot", "record", ["crew_id", "lot"])
    op.create_index("ix_record_crew_id_message_key", "record", ["crew_id", "message_key"])
    op.create_index("ix_record_crew_id_plant_at", "record", ["crew_id", "plant", "at"])
    op.create_index("ix_record_crew_id_superseded_by", "record", ["crew_id", "superseded_by"])
    op.create_index("ix_record_crew_id_told_by_number", "record", ["crew_id", "told_by", "number"])


def _lay_refused_update() -> None:
    op.create_table(
        "refused_update",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("crew_id", sa.Integer(), nullable=True),
        sa.Column("channel", sa.Text(), nullable=False),
        sa.Column("raw", sa.Text(), nullable=False),
        sa.Column("why", sa.Text(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_refused_update"),
        sa.ForeignKeyConstraint(["crew_id"], ["crew.id"], name="fk_refused_update_crew_id"),
    )


def _lay_reminder() -> None:
    op.create_table(
        "reminder",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("crew_id", sa.Integer(), nullable=False),
        sa.Column("key", sa.Text(), nullable=False),
        sa.Column("subject_kind", sa.Text(), nullable=False),
        sa.Column("subject_name", sa.Text(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("step", sa.Integer(), nullable=False),
        sa.Column("planned_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("due_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("last_useful_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("timed", sa.Boolean(), nullable=False),
        sa.Column("critical", sa.Boolean(), nullable=False),
        sa.Column("soft", sa.Boolean(), nullable=False),
        sa.Column("facts", sa.Text(), nullable=False),
        sa.Column("done_means", sa.Text(), nullable=True),
        sa.Column("to_name", sa.Text(), nullable=True),
        sa.Column("chat", sa.Text(), nullable=True),
        sa.Column("state", sa.Text(), nullable=False),
        sa.Column("claimed_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("sent_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("said_times", sa.Integer(), nullable=False),
        sa.Column("said_in", sa.Integer(), nullable=True),
        sa.Column("said_chat", sa.Text(), nullable=True),
        sa.Column("again_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("closed_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("closed_by", sa.Text(), nullable=True),
        sa.Column("closed_in", sa.Text(), nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_reminder"),
        sa.UniqueConstraint("crew_id", "key", name="uq_reminder_crew_id_key"),
        sa.ForeignKeyConstraint(["crew_id"], ["crew.id"], name="fk_reminder_crew_id"),
        sa.CheckConstraint(
            "state in ('planned', 'claimed', 'sent', 'confirmed', 'skipped', 'cancelled', 'asked', 'gone')",
            name=op.f("ck_reminder_known_state"),
        ),
    )
    op.create_index("ix_reminder_crew_id_closed_in", "reminder", ["crew_id", "closed_in"])
    op.create_index("ix_reminder_crew_id_state_due_at", "reminder", ["crew_id", "state", "due_at"])
    op.create_index(
        "ix_reminder_crew_id_subject_kind_subject_name_state",
        "reminder",
        ["crew_id", "subject_kind", "subject_name", "state"],
    )
    op.create_index("ix_reminder_state_again_at", "reminder", ["state", "again_at"])
    op.create_index("ix_reminder_state_due_at", "reminder", ["state", "due_at"])


def _lay_setting() -> None:
    op.create_table(
        "setting",
        sa.Column("crew_id", sa.Integer(), nullable=False),
        sa.Column("key", sa.Text(), nullable=False),
        sa.Column("text", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("crew_id", "key", name="pk_setting"),
        sa.ForeignKeyConstraint(["crew_id"], ["crew.id"], name="fk_setting_crew_id"),
    )


def _lay_button() -> None:
    op.create_table(
        "button",
        sa.Column("token", sa.Text(), nullable=False),
        sa.Column("crew_id", sa.Integer(), nullable=False),
        sa.Column("outbox_id", sa.Integer(), nullable=False),
        sa.Column("label", sa.Text(), nullable=False),
        sa.Column("action", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("token", name="pk_button"),
        sa.ForeignKeyConstraint(["crew_id"], ["crew.id"], name="fk_button_crew_id"),
        sa.ForeignKeyConstraint(["outbox_id"], ["outbox.id"], name="fk_button_outbox_id"),
    )


def _lay_lot_tray() -> None:
    op.create_table(
        "lot_tray",
        sa.Column("crew_id", sa.Integer(), nullable=False),
        sa.Column("tray", sa.Text(), nullable=False),
        sa.Column("number", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("crew_id", "tray", "number", name="pk_lot_tray"),
        sa.ForeignKeyConstraint(
            ["crew_id", "number"], ["lot.crew_id", "lot.number"], name="fk_lot_tray_crew_id_number"
        ),
    )
    op.create_index("ix_lot_tray_crew_id_number", "lot_tray", ["crew_id", "number"])


def _lay_outbox_record() -> None:
    op.create_table(
        "outbox_record",
        sa.Column("crew_id", sa.Integer(), nullable=False),
        sa.Column("outbox_id", sa.Integer(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("crew_id", "outbox_id", "number", name="pk_outbox_record"),
        sa.ForeignKeyConstraint(
            ["crew_id", "number"], ["record.crew_id", "record.number"], name="fk_outbox_record_crew_id_number"
        ),
        sa.ForeignKeyConstraint(["outbox_id"], ["outbox.id"], name="fk_outbox_record_outbox_id"),
    )


def _lay_outbox_reminder() -> None:
    op.create_table(
        "outbox_reminder",
        sa.Column("crew_id", sa.Integer(), nullable=False),
        sa.Column("outbox_id", sa.Integer(), nullable=False),
        sa.Column("reminder_id", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("crew_id", "outbox_id", "reminder_id", name="pk_outbox_reminder"),
        sa.ForeignKeyConstraint(["crew_id"], ["crew.id"], name="fk_outbox_reminder_crew_id"),
        sa.ForeignKeyConstraint(["outbox_id"], ["outbox.id"], name="fk_outbox_reminder_outbox_id"),
        sa.ForeignKeyConstraint(["reminder_id"], ["reminder.id"], name="fk_outbox_reminder_reminder_id"),
    )


def _lay_photo_lot() -> None:
    op.create_table(
        "photo_lot",
        sa.Column("crew_id", sa.Integer(), nullable=False),
        sa.Column("lot", sa.Text(), nullable=False),
        sa.Column("photo_id", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("crew_id", "lot", "photo_id", name="pk_photo_lot"),
        sa.ForeignKeyConstraint(["crew_id"], ["crew.id"], name="fk_photo_lot_crew_id"),
        sa.ForeignKeyConstraint(["photo_id"], ["photo.id"], name="fk_photo_lot_photo_id"),
    )


def _lay_record_tray() -> None:
    op.create_table(
        "record_tray",
        sa.Column("crew_id", sa.Integer(), nullable=False),
        sa.Column("tray", sa.Text(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("crew_id", "tray", "number", name="pk_record_tray"),
        sa.ForeignKeyConstraint(
            ["crew_id", "number"], ["record.crew_id", "record.number"], name="fk_record_tray_crew_id_number"
        ),
    )
    op.create_index("ix_record_tray_crew_id_number", "record_tray", ["crew_id", "number"])
