"""Does every message leave once, in its order, and is it known afterwards what it was about?"""

from __future__ import annotations

from datetime import timedelta
from zoneinfo import ZoneInfo

import pytest
from bench_rows import CHAT, DAY, HOUR, MINUTE, NOW, TRAY_2, due, found, said

from core.storage import NameTaken, Store
from core.storage.outbox import PARKED_KEEPS, SENDING_LASTS


@pytest.fixture
def crew(store: Store) -> int:
    return found(store).number


def post(store: Store, crew: int, *texts: str, chat: str = CHAT, **more) -> list[int]:
    with store.books(crew) as books:
        return [books.post(chat=chat, text=text, at=NOW, **more).number for text in texts]


def taken(store: Store, now=NOW, **more) -> list[str]:
    return [message.text for message in store.outbox_due(now, **more)]


def test_a_chat_hears_everything_in_the_order_it_was_posted(store: Store, crew: int):
    numbers = post(store, crew, "one", "two", "three")
    post(store, crew, "elsewhere", chat="lath")
    assert taken(store) == ["one", "elsewhere"]
    assert taken(store) == []
    for number, following in zip(numbers, (["two"], ["three"], []), strict=True):
        store.outbox_state(number, "sent", at=NOW, sent_message_id=f"m{number}")
        assert taken(store) == following
    with store.reading(crew) as books:
        sent = books.posted(numbers)
    assert [(one.state, one.sent_message_id, one.tries) for one in sent] == [("sent", f"m{n}", 1) for n in numbers]


def test_one_crews_wait_does_not_hold_up_another_chat(store: Store, crew: int):
    first, _ = post(store, crew, "one", "two")
    post(store, crew, "elsewhere", chat="lath")
    assert taken(store, limit=1) == ["one"]
    store.outbox_state(first, "waiting", retry_at=NOW + MINUTE)
    assert taken(store) == ["elsewhere"]
    assert store.outbox_waits() == NOW
    assert taken(store, NOW + MINUTE) == ["one"]


def test_a_message_for_later_does_not_hold_up_the_others(store: Store, crew: int):
    post(store, crew, "tomorrow", not_before=NOW + DAY)
    post(store, crew, "now")
    assert taken(store) == ["now"]
    store.outbox_state(2, "sent", at=NOW)
    assert store.outbox_waits() == NOW + DAY
    assert taken(store, NOW + DAY) == ["tomorrow"]
    store.outbox_state(1, "sent", at=NOW)
    assert store.outbox_waits() is None


def test_a_postman_that_died_leaves_its_message_to_the_next_as_doubtful(store: Store, crew: int):
    post(store, crew, "one")
    (first,) = store.outbox_due(NOW)
    assert not first.doubtful
    assert store.outbox_due(NOW + SENDING_LASTS - timedelta(seconds=1)) == ()
    (again,) = store.outbox_due(NOW + SENDING_LASTS)
    assert (again.number, again.doubtful, again.tries) == (first.number, True, 2)


def test_an_unknown_outcome_is_tried_again_as_doubtful_or_left(store: Store, crew: int):
    first, _second = post(store, crew, "one", "two")
    store.outbox_due(NOW)
    store.outbox_state(first, "unknown", retry_at=NOW + MINUTE, trouble="timed out")
    assert taken(store) == []
    (again,) = store.outbox_due(NOW + MINUTE)
    assert (again.number, again.doubtful, again.trouble) == (first, True, "timed out")
    store.outbox_state(first, "unknown")
    assert taken(store, NOW + MINUTE) == ["two"]


def test_a_refused_message_lets_the_next_one_pass(store: Store, crew: int):
    first, _second = post(store, crew, "one", "two")
    store.outbox_due(NOW)
    store.outbox_state(first, "refused", trouble="message is too long")
    assert taken(store) == ["two"]


def test_a_chat_that_cannot_be_reached_rests_until_somebody_writes_there(store: Store, crew: int):
    with store.books(crew) as books:
        books.hear(said(1), NOW)
    first, old = post(store, crew, "one", "two")
    store.outbox_due(NOW)
    store.outbox_state(first, "unreachable", at=NOW)
    assert taken(store, NOW + DAY) == []
    later = NOW + PARKED_KEEPS + HOUR
    with store.books(crew) as books:
        books.post(chat=CHAT, text="three", at=later)
        books.hear(said(2, said_at=later), later)
        books.post(chat=CHAT, text="four", at=later)
        assert [one.state for one in books.posted([first, old])] == ["unreachable", "unreachable"]
    assert taken(store, later) == ["three"]


def test_a_state_that_is_none_is_refused(store: Store, crew: int):
    with pytest.raises(ValueError, match="posted"):
        store.outbox_state(1, "posted")


def test_channels_have_their_own_postmen(store: Store, crew: int):
    post(store, crew, "to the console")
    post(store, crew, "to telegram", chat="-7", channel="telegram")
    assert taken(store, channel="telegram") == ["to telegram"]
    assert taken(store, channel="console") == ["to the console"]


def test_an_answer_goes_to_the_channel_that_its_chat_belongs_to(store: Store, crew: int):
    with store.books(crew) as books:
        books.hear(said(1, channel="telegram", chat="-7"), NOW)
        assert books.post(chat="-7", text="noted", at=NOW).channel == "telegram"
        assert books.post(chat="new", text="noted", at=NOW).channel == "console"
        books.meet_in("telegram", "-7")
        assert books.post(chat="newer", text="noted", at=NOW).channel == "telegram"


def test_a_button_does_what_it_was_offered_for(store: Store, crew: int):
    with store.books(crew) as books:
        actions = [(f"choice {number}", {"fill": {"lots": [f"26-{number:03d}"]}}) for number in range(40)]
        message = books.post(chat=CHAT, text="which lot?", at=NOW, buttons=actions)
        other = books.post(chat=CHAT, text="and?", at=NOW, buttons=[("undo", {"undo": "k"})])
        later = books.offer(other.number, "again", {"again": True})
    with store.reading(crew) as books:
        tokens = [token for _, token in message.buttons]
        assert [label for label, _ in message.buttons] == [label for label, _ in actions]
        assert [books.pressed(token) for token in tokens] == [action for _, action in actions]
        assert books.pressed(later) == {"again": True}
        assert books.posted([other.number])[0].buttons == (("undo", other.buttons[0][1]), ("again", later))
        assert books.pressed("nonsense") is None
        # A channel may carry no more than 64 bytes with a button (core.telegram.org/bots/api#inlinekeyboardbutton).
        assert len({*tokens, later}) == 41
        assert max(map(len, tokens)) <= 64


def test_what_is_posted_comes_out_whole(store: Store, crew: int):
    with store.books(crew) as books:
        books.post(chat=CHAT, text="labels", at=NOW, reply_to="5", document="labels/26-001.pdf", answers="k")
    (message,) = store.outbox_due(NOW)
    assert (message.reply_to, message.document, message.answers, message.posted_at) == (
        "5", "labels/26-001.pdf", "k", NOW,
    )  # fmt: skip
    assert (message.crew, message.state) == (crew, "sending")


# -- crews, members, chats and names


def test_a_crew_is_found_by_its_chats_its_code_and_its_people(store: Store, crew: int):
    other = found(store, "Heron Row", "heron")
    with store.books(crew) as books:
        books.meet_in("telegram", "-100")
        books.join("Ilse", "telegram", "7", "lead", private_chat="7")
        books.join("Odo", "telegram", "8")
    found_here = store.crew_of_chat("telegram", "-100")
    assert (found_here.number, found_here.lead, found_here.group_chat) == (crew, "Ilse", "-100")
    assert found_here.zone == ZoneInfo("America/Los_Angeles")
    assert store.crew_of_chat("telegram", "7").number == crew
    assert store.crew_of_chat("console", "-100") is None
    assert store.crew_of_code("heron") == other
    assert store.crew_of_code("osprey") is None
    assert [one.number for one in store.crews_of_account("telegram", "8")] == [crew]
    with store.books(other.number) as books:
        books.know_chat("telegram", "-100")
    assert store.crew_of_chat("telegram", "-100").number == crew


def test_a_name_belongs_to_one_member(store: Store, crew: int):
    with store.books(crew) as books:
        odo = books.join("Odo")
        assert books.join("odo", "telegram", "8") == books.member_of("telegram", "8")
        assert books.member("ODO").number == odo.number
        with pytest.raises(NameTaken):
            books.join("Odo", "telegram", "9")
        books.join("Bram", "telegram", "9")
        assert books.join("Bram", "telegram", "9", "lead").role == "lead"
        assert [one.name for one in books.members()] == ["odo", "Bram"]
        books.leave("bram")
        assert books.member("Bram") is None


def test_the_lead_is_told_in_private_else_in_the_group_else_nowhere(store: Store, crew: int):
    with store.books(crew) as books:
        assert books.tell_lead("bleach and vinegar", at=NOW) is None
        books.meet_in("telegram", "-100")
        assert books.tell_lead("bleach and vinegar", at=NOW).chat == "-100"
        books.join("Ilse", "telegram", "7", "lead", private_chat="7")
        assert books.tell_lead("bleach and vinegar", at=NOW, but="Odo").chat == "7"
        assert books.tell_lead("bleach and vinegar", at=NOW, but="Ilse") is None


def test_a_chat_that_moved_keeps_what_is_still_to_come(store: Store, crew: int):
    with store.books(crew) as books:
        books.meet_in("telegram", "-7")
        books.hear(said(5, channel="telegram", chat="-7"), NOW)
        books.post(chat="-7", text="noted", at=NOW, reply_to="5")
        books.ask(chat="-7", speaker="ilse", kind="lot", draft={}, asked_at=NOW, expires_at=NOW + DAY)
        books.save_plan(TRAY_2, [due(1)], NOW)
    store.move_chat("telegram", "-7", "-1007")
    store.move_chat("telegram", "-8", "-1008")
    (message,) = store.outbox_due(NOW)
    assert (message.chat, message.reply_to) == ("-1007", None)
    assert store.crew_of_chat("telegram", "-7") is None
    assert store.crew_of_chat("telegram", "-1007").group_chat == "-1007"
    with store.books(crew) as books:
        assert books.open_question("-1007", "ilse", NOW) is not None
        assert len(books.open_reminders("-1007")) == 1
        # The new chat counts its messages from the start again: number 5 there is another message.
        assert books.hear(said(5, channel="telegram", chat="-1007"), NOW)[1]
        books.forget_chat("telegram", "-1007")
    assert store.crew_of_chat("telegram", "-1007") is None
    assert store.crews()[0].group_chat is None


def test_names_settings_and_pictures_are_kept(store: Store, crew: int):
    with store.books(crew) as books:
        for kind, name in (("plant", "toyon"), ("plant", "coyote brush"), ("plant", "toyon"), ("source", "m2")):
            books.learn(kind, name)
        books.join("Ilse")
        books.learn("person", "Ilse")
        books.learn("place", "lath")
        for percent in ("5.25", "6"):
            books.settle("jug", percent)
        books.name_crew(name="Wren Gulch", zone=ZoneInfo("UTC"))
        first = books.keep_photo(file="AgAD1", caption="lot 1 roots", by="ilse", at=NOW, lots=["26-001", "26-002"])
        books.keep_photo(file="AgAD2", caption="", by="odo", at=NOW - HOUR)
    with store.reading(crew) as books:
        names = books.names()
        assert (names.plants, names.people) == (("toyon", "coyote brush"), ("Ilse",))
        assert (names.places, names.sources) == (("lath",), ("m2",))
        assert (books.setting("jug"), books.setting("hood")) == ("6", None)
        assert (books.crew.name, books.crew.zone.key) == ("Wren Gulch", "UTC")
        assert [one.file for one in books.photos()] == ["AgAD2", "AgAD1"]
        (photo,) = books.photos("26-002")
        assert (photo.number, photo.lots, photo.caption) == (first, ("26-001", "26-002"), "lot 1 roots")
    with store.books(crew) as books:
        books.unsettle("jug")
        assert books.setting("jug") is None


def test_an_update_that_nobody_could_read_is_kept(store: Store, crew: int):
    store.keep_refused("telegram", '{"update_id": 1}', "a message without a date", NOW)
    with store._engine.connect() as connection:
        kept = connection.exec_driver_sql("SELECT channel, raw, why FROM refused_update").fetchall()
    assert [tuple(row) for row in kept] == [("telegram", '{"update_id": 1}', "a message without a date")]


# -- questions


def test_a_question_waits_for_its_speaker_until_it_expires(store: Store, crew: int):
    wanted = {"entries": [{"act": "lose", "count": 4}], "message": "console:bench:1:0"}
    with store.books(crew) as books:
        number = books.ask(
            chat=CHAT, speaker="ilse", kind="lot", draft=wanted, asked_at=NOW, expires_at=NOW + DAY, outbox=None
        )
    with store.reading(crew) as books:
        question = books.open_question(CHAT, "ilse", NOW)
        assert (question.number, question.kind, question.draft) == (number, "lot", wanted)
        assert books.open_question(CHAT, "odo", NOW) is None
        assert books.open_question("lath", "ilse", NOW) is None
        assert books.open_question(CHAT, "ilse", NOW + DAY) is None
        assert books.question(number) == question
        assert books.question(number + 1) is None


def test_a_new_question_closes_the_one_before_unless_put_beside_it(store: Store, crew: int):
    times = {"asked_at": NOW, "expires_at": NOW + DAY}
    with store.books(crew) as books:
        first = books.ask(chat=CHAT, speaker="ilse", kind="lot", draft={}, **times)
        beside = books.ask(chat=CHAT, speaker="ilse", kind="count", draft={}, beside=True, **times)
        assert books.open_question(CHAT, "ilse", NOW).number == beside
        books.close_question(beside)
        assert books.open_question(CHAT, "ilse", NOW).number == first
        books.ask(chat=CHAT, speaker="odo", kind="lot", draft={}, **times)
        assert books.question(first) is not None
        books.ask(chat=CHAT, speaker="ilse", kind="state", draft={}, **times)
        assert books.question(first) is None


def test_an_edit_closes_the_question_of_the_words_before_it(store: Store, crew: int):
    with store.books(crew) as books:
        key, _ = books.hear(said(1, "lost 4"), NOW)
        number = books.ask(
            chat=CHAT, speaker="ilse", kind="lot", draft={"message": key}, asked_at=NOW, expires_at=NOW + DAY
        )
        edited, _ = books.hear(said(1, "lost 4 of lot 1", edit=1), NOW)
        books.close_question_of(edited)
        assert books.question(number) is None
