"""What is made of one raw update, and what of its words."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.polling import BackOff, in_order
from bot.telegram_updates import Me, Moving, Note, Nothing, Press, Standing, Unreadable, read_update, words_of
from tests.bot.updates import Mail

ME = Me(account=4242, username="plover_bench_bot")
MAIL = Mail()


@pytest.mark.parametrize(
    ("text", "words", "called"),
    [
        ("misted tray 2", "misted tray 2", False),
        ("/start", "hello", True),
        ("/help", "help", True),
        ("/help@Plover_Bench_Bot", "help", True),
        ("/due", "what's due", True),
        ("/due tray 2", "what's due tray 2", True),
        ("/misted tray 2\nand tray 3", "misted tray 2\nand tray 3", True),
        ("/undo", "undo", True),
        ("/undo@another_bot", None, False),
        ("@plover_bench_bot what's due?", "what's due?", True),
        ("misted tray 2 @plover_bench_bot", "misted tray 2", True),
        ("write to a@plover_bench_bot.org", "write to a@plover_bench_bot.org", False),
        ("31/72 rooted", "31/72 rooted", False),
        ("/", "/", False),
        ("", "", False),
    ],
)
def test_words_of_a_message(text: str, words: str | None, called: bool) -> None:
    assert words_of(text, ME.username)[::2] == (words, called)


def test_a_code_may_come_with_start() -> None:
    assert words_of("/start k7mpq-3xv9t", ME.username)[1] == "k7mpq-3xv9t"
    assert words_of("k7mpq-3xv9t", ME.username)[1] == "k7mpq-3xv9t"


@pytest.mark.parametrize(
    ("update", "kind"),
    [
        (MAIL.say(5, "hello"), Note),
        (MAIL.say(5, caption="lot 1", document={"file_id": "f", "file_unique_id": "u"}), Note),
        (MAIL.say(5, dice={"emoji": "x", "value": 3}), Note),
        (MAIL.say(5, left_chat_member={"id": 5, "is_bot": False, "first_name": "P"}, chat=-5), Nothing),
        (MAIL.say(5, group_chat_created=True, chat=-5), Nothing),
        (MAIL.say(5, "hi") | {"message": MAIL.message(5, "hi") | {"from": MAIL.BOT}}, Nothing),
        (MAIL.update(channel_post=MAIL.message(5, "hi") | {"chat": {"id": -9, "type": "channel"}}), Nothing),
        (MAIL.update(something_new={"a": 1}), Nothing),
        (MAIL.update(message=MAIL.message(5, migrate_to_chat_id=-9, chat=-5)), Moving),
        (MAIL.standing(5, -5, "member"), Standing),
        (MAIL.standing(5, -5, "kicked"), Standing),
        (MAIL.press(5, {"message_id": 3, "chat": 5, "text": "t", "buttons": [("Undo", "a.0")],
                        "keyboard": [[{"text": "Undo", "callback_data": "a.0"}]]}, "Undo"), Press),
    ],
)  # fmt: skip
def test_kinds_of_updates(update: dict[str, Any], kind: type) -> None:
    assert type(read_update(update, None, ME)) is kind


def test_somebody_who_writes_as_the_group_is_somebody() -> None:
    update = MAIL.say(1087968824, "hello", chat=-5, sender_chat=Mail.chat(-5))
    update["message"]["from"]["is_bot"] = True
    note = read_update(update, None, ME)
    assert isinstance(note, Note)
    assert (note.account, note.first_name) == ("-5", "someone")


def test_a_picture_that_could_lead_out_of_its_folder_is_not_kept() -> None:
    size = {"file_id": "../../x", "file_unique_id": "u", "width": 9, "height": 9}
    note = read_update(MAIL.say(5, photo=[size], caption="lot 1"), None, ME)
    assert isinstance(note, Note)
    assert (note.photo, note.text) == (None, "lot 1")


JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.text(max_size=5),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=3),
    max_leaves=8,
)


@settings(max_examples=120, deadline=None)
@given(
    key=st.sampled_from(["message", "edited_message", "callback_query", "my_chat_member"]),
    field=st.sampled_from(["date", "chat", "from", "text", "message_id", "reply_to_message", "photo", "edit_date"]),
    value=JSON,
)
def test_whatever_is_broken_is_unreadable_and_nothing_worse(key: str, field: str, value: Any) -> None:
    update = MAIL.update(**{key: MAIL.message(5, "hello") | {field: value}})
    try:
        came = read_update(update, None, ME)
    except Unreadable:
        return
    if isinstance(came, Note):
        assert isinstance(came.text, str)
        assert came.said_at.tzinfo is not None
        int(came.chat), int(came.account), int(came.message_id)


def test_batches_go_by_their_numbers_and_pauses_have_a_cap() -> None:
    batch = [{"update_id": 7}, "words", {"update_id": 3}, {"update_id": True}, {"update_id": 5}]
    assert [one.get("update_id") for one in in_order(batch) if isinstance(one, dict)] == [3, 5, 7, True]
    back_off = BackOff(first=1, longest=30)
    pauses = [back_off.next_pause() for _ in range(60)]
    assert 0.5 <= pauses[0] <= 1
    assert max(pauses) <= 30
    assert min(pauses[10:]) >= 15
    assert len(set(pauses[10:])) > 10
    back_off.recover()
    assert back_off.next_pause() <= 1
