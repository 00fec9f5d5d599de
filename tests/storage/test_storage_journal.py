"""Is what was said and recorded kept once, found again, and never lost by a correction?"""

from __future__ import annotations

from dataclasses import replace

import pytest
from bench_rows import CHAT, DAY, HOUR, MINUTE, NOW, draft, found, said

from core.entries import Act, Entry
from core.storage import Store


@pytest.fixture
def crew(store: Store) -> int:
    return found(store).number


def test_a_message_is_heard_once_and_its_answer_is_known(store: Store, crew: int):
    with store.books(crew) as books:
        key, first_time = books.hear(said(5, "stuck 72"), NOW)
        answer = books.post(chat=CHAT, text="lot 26-001", at=NOW)
    with store.books(crew) as books:
        assert books.hear(said(5, "stuck 72"), NOW + HOUR) == (key, False)
        heard = books.heard("console", CHAT, "5")
    assert first_time
    assert heard.answers == (answer.number,)
    assert answer.answers == key
    assert (heard.text, heard.said_at) == ("stuck 72", NOW)


@pytest.mark.parametrize("other", [{"edit": 1}, {"chat": "lath"}, {"channel": "telegram"}, {"message_id": "6"}])
def test_another_edit_chat_channel_or_id_is_another_message(store: Store, crew: int, other):
    with store.books(crew) as books:
        key, _ = books.hear(said(5), NOW)
        other_key, first_time = books.hear(said(5) | other, NOW)
    assert first_time
    assert other_key != key


def test_the_records_of_a_message_are_those_of_all_its_edits(store: Store, crew: int):
    with store.books(crew) as books:
        key, _ = books.hear(said(5, "lost 4"), NOW)
        first = books.write(draft(key, Act.LOSE, count=4))
        edited, _ = books.hear(said(5, "lost 5", edit=1), NOW)
        second = books.write(draft(edited, Act.LOSE, count=5))
        books.supersede([first.number], by=second.number)
        books.hear(said(6), NOW)
        books.write(draft("console:bench:6:0"))
    with store.reading(crew) as books:
        for one in (key, edited):
            assert [(r.number, r.holds()) for r in books.records_of_message(one)] == [(1, False), (2, True)]
        assert books.first_key("console", CHAT, "5") == key
        assert books.message(CHAT, "5").text == "lost 5"
        assert books.latest_message(CHAT, "ilse").message_id == "6"
        assert [r.number for r in books.records_of_message("import:9")] == []


def test_records_are_numbered_by_crew_and_come_in_the_order_of_the_acts(store: Store, crew: int):
    with store.books(crew) as books:
        late = books.write(draft(lot="26-001", at=NOW, said_at=NOW))
        early = books.write(draft(lot="26-001", at=NOW - DAY, said_at=NOW + MINUTE))
        same_said_earlier = books.write(draft(lot="26-001", at=NOW, said_at=NOW - MINUTE))
    with store.reading(crew) as books:
        assert [late.number, early.number, same_said_earlier.number] == [1, 2, 3]
        assert books.lot_records("26-001") == (early, same_said_earlier, late)
        assert books.records(limit=2) == (same_said_earlier, late)
        assert books.record(2) == early
        assert books.record(9) is None


def test_a_tray_is_found_by_any_of_its_names(store: Store, crew: int):
    with store.books(crew) as books:
        both = books.write(draft(trays=("B3", "4")))
        books.write(draft(trays=("44",)))
    with store.reading(crew) as books:
        assert books.tray_records("b3") == books.tray_records("B3") == books.tray_records(" 4 ") == (both,)
        assert books.tray_records("3") == ()


def test_records_are_narrowed_by_act_plant_time_and_lot(store: Store, crew: int):
    with store.books(crew) as books:
        stuck = books.write(draft(act=Act.STICK, plant="coffeeberry", lot="26-001", at=NOW - DAY))
        lost = books.write(draft(act=Act.LOSE, count=3, plant="toyon", lot="26-002"))
        gone = books.write(draft(act=Act.LOSE, count=9, lot="26-002", at=NOW + MINUTE))
        books.take_back([gone.number])
    with store.reading(crew) as books:
        assert books.records(acts=("lose",)) == (lost,)
        assert books.records(acts=[Act.LOSE], holding=False)[1].number == gone.number
        assert books.records(plant="coffeeberry") == (stuck,)
        assert books.records(since=NOW) == (lost,)
        assert books.records(until=NOW) == (stuck,)
        assert books.records(lots=["26-001", "26-009"]) == (stuck,)
        assert books.records(acts=()) == ()


def test_what_was_superseded_is_still_there_and_can_hold_again(store: Store, crew: int):
    with store.books(crew) as books:
        wrong = books.write(draft(act=Act.LOSE, count=4))
        right = books.write(draft(act=Act.LOSE, count=5))
        books.supersede([wrong.number], by=right.number)
        assert books.records() == (right,)
        assert books.superseded_by(right.number) == (replace(wrong, superseded_by=right.number),)
        books.take_back([right.number])
        books.restore([wrong.number])
        assert books.records() == (wrong,)
        books.take_back([wrong.number], by=right.number)
        assert books.record(wrong.number) == replace(wrong, taken_back=True, superseded_by=right.number)
        books.supersede([right.number], by=right.number)
        assert books.superseded_by(right.number) == (books.record(wrong.number),)


def test_the_last_note_is_the_speakers_own_in_that_chat(store: Store, crew: int):
    with store.books(crew) as books:
        for number, (chat, speaker) in enumerate([(CHAT, "ilse"), (CHAT, "odo"), ("lath", "ilse")], start=1):
            key, _ = books.hear(said(number, chat=chat, speaker=speaker), NOW)
            books.write(draft(key, told_by=speaker))
        books.write(draft("console:lath:3:0"))
        mark, _ = books.hear(said(4, "undo"), NOW + HOUR)
        undone = books.write(draft(mark, Act.UNDO, said_at=NOW + HOUR))
    with store.reading(crew) as books:
        assert books.last_message_with_records("ilse", "lath") == "console:lath:3:0"
        assert [one.number for one in books.told_by("ilse", "lath", since=NOW - HOUR)] == [3, 4]
        assert books.last_message_with_records("odo", "lath") is None
        assert books.last_message_with_records("ilse", CHAT) == mark
        assert books.last_message_with_records("ilse", CHAT, but={Act.UNDO}) == "console:bench:1:0"
        assert books.told_by("ilse", CHAT, since=NOW + MINUTE) == (undone,)
        assert books.told_by("odo", CHAT, since=NOW + MINUTE) == ()


def test_the_same_words_count_only_where_they_were_recorded_and_hold(store: Store, crew: int):
    with store.books(crew) as books:
        key, _ = books.hear(said(1, "Lost  4 to rot"), NOW)
        assert not books.same_words(CHAT, "lost 4 to rot", since=NOW - HOUR, but="")
        record = books.write(draft(key, Act.LOSE, count=4))
        assert books.same_words(CHAT, "lost 4 to  ROT", since=NOW - HOUR, but="")
        assert not books.same_words(CHAT, "lost 4 to rot", since=NOW - HOUR, but=key)
        assert not books.same_words(CHAT, "lost 4 to rot", since=NOW + MINUTE, but="")
        assert not books.same_words("lath", "lost 4 to rot", since=NOW - HOUR, but="")
        books.take_back([record.number])
        assert not books.same_words(CHAT, "lost 4 to rot", since=NOW - HOUR, but="")


def test_a_reply_finds_what_became_of_the_records(store: Store, crew: int):
    with store.books(crew) as books:
        key, _ = books.hear(said(1, "lost 4"), NOW)
        first = books.write(draft(key, Act.LOSE, count=4))
        told = books.post(chat=CHAT, text="4 lost", at=NOW, records=[first.number])
    (sent,) = store.outbox_due(NOW)
    store.outbox_state(sent.number, "sent", at=NOW, sent_message_id="80")
    with store.books(crew) as books:
        assert books.spoken_of(CHAT, "80").records == (first,)
        second = books.write(draft("console:bench:2:0", Act.LOSE, count=5))
        books.supersede([first.number], by=second.number)
        assert books.spoken_of(CHAT, "80").records == (second,)
        assert books.spoken_of(CHAT, "1").records == (second,)
        mark = books.write(draft("console:bench:3:0", Act.UNDO))
        books.supersede([second.number], by=mark.number)
        assert books.spoken_of(CHAT, "80").records == (replace(first, superseded_by=second.number),)
        assert books.spoken_of(CHAT, "80").text == "4 lost"
        assert books.spoken_of(CHAT, "81") is None
    assert told.number == sent.number


def test_a_corrected_correction_stands_alone_and_undos_bring_back_step_by_step(store: Store, crew: int):
    def standing() -> list[int]:
        return [one.number for one in books.records() if one.entry.act is Act.LOSE]

    with store.books(crew) as books:
        for number in range(1, 4):
            books.write(draft(f"m{number}", Act.LOSE, count=number))
            if number > 1:
                books.supersede([number - 1], by=number)
        assert standing() == [3]
        undo = books.write(draft("u4", Act.UNDO)).number
        books.supersede([3], by=undo)
        assert standing() == [2]
        undo_of_undo = books.write(draft("u5", Act.UNDO)).number
        books.supersede([undo], by=undo_of_undo)
        assert standing() == [3]
        third_undo = books.write(draft("u6", Act.UNDO)).number
        books.supersede([undo_of_undo], by=third_undo)
        assert standing() == [2]
        books.take_back([2])
        assert standing() == [1]
        books.restore([2])
        assert standing() == [2]


def test_an_edit_of_an_edit_leaves_only_the_last_words_standing(store: Store, crew: int):
    with store.books(crew) as books:
        first = books.write(draft("m1", Act.LOSE, count=4)).number
        mark = books.write(draft("m1 edited", Act.AMEND)).number
        books.supersede([first], by=mark)
        second = books.write(draft("m1 edited", Act.LOSE, count=5)).number
        again = books.write(draft("m1 edited again", Act.AMEND)).number
        books.supersede([mark, second], by=again)
        third = books.write(draft("m1 edited again", Act.LOSE, count=6))
        assert books.records(acts=("lose",)) == (third,)


def test_a_reply_to_the_receipt_of_an_edited_note_finds_the_new_records(store: Store, crew: int):
    with store.books(crew) as books:
        key, _ = books.hear(said(1, "lost 4"), NOW)
        first = books.write(draft(key, Act.LOSE, count=4))
        edited, _ = books.hear(said(1, "lost 6", edit=1), NOW)
        mark = books.write(draft(edited, Act.AMEND))
        books.supersede([first.number], by=mark.number)
        new = books.write(draft(edited, Act.LOSE, count=6))
        assert books.what_holds_now([first.number]) == (new,)


def test_an_entry_comes_back_as_it_was_written(store: Store, crew: int):
    entry = Entry.from_keys(
        {
            "act": "stick", "plant": "salvia 'net shed'", "count": 72, "count_max": 80, "approx": True,
            "on": "2026-03-01",
            "hormone": {"form": "powder", "ppm": 3000}, "container": {"kind": "six-pack", "count": 12},
            "sources": [{"source": "m2", "count": 18}, {"source": "m5"}], "cutting": ["tip", "heel"], "trays": ["2"],
            "duration": "P3M", "temp_c": 82.2, "parts": [1, 9], "until": "09:30", "rest": "sunny \x00 ü",
        }
    )  # fmt: skip
    with store.books(crew) as books:
        written = books.write(replace(draft(), entry=entry, reminder="tray:2|vent|1|20260302T1710Z"))
    with store.reading(crew) as books:
        assert books.record(written.number) == written
        assert written.entry == entry
