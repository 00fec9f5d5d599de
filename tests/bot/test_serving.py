"""The whole way over real HTTP: an update in, its effects in the books, the answer out."""

from __future__ import annotations

import json
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pytest

from bot.photographs import missing_pictures
from bot.serving import ready_crews
from bot.wording import say_in
from bot.wording.delivery import COULD_NOT_WORK
from core.conversation import Message, Say, Turn, take_turn
from core.conversation.admission import turn_away
from core.storage import Store
from tests.bot.bot_api_stand_in import BotApi, Fault
from tests.bot.conftest import GROUP, LEAD, OSEI, STRANGER, Serving

STUCK = "stuck 72 coyote brush tips, 0.3% iba powder, perlite, tray 2"


async def test_code_makes_a_lead_then_members_and_strangers_learn_nothing(serving: Serving) -> None:
    async with serving.under_way():
        away = await serving.hear(serving.mail.say(STRANGER, STUCK), serving.mail.say(STRANGER, "/help"))
        assert len(away) == 2
        assert away[0] == away[1]
        assert serving.code() not in away[0]
        assert "bench" not in away[0].casefold()
        await serving.hear(serving.mail.say(LEAD, f"/start {serving.code()}", name="Imke"))
        await serving.hear(serving.mail.say(OSEI, f"  {serving.code().upper()} ", name="Osei"))
        with serving.store.reading(1) as books:
            assert [(one.name, one.role) for one in books.members()] == [("imke", "lead"), ("osei", "member")]
        assert serving.rows() == []
    assert serving.code() in serving.out.getvalue()


async def test_a_note_is_recorded_and_its_receipt_answers_it(serving: Serving) -> None:
    async with serving.under_way():
        serving.found()
        note = serving.mail.say(OSEI, STUCK)
        (receipt,) = await serving.hear(note)
        assert "26-001" in receipt
        assert [row["by"] for row in serving.rows()] == ["osei"]
        fields = serving.api.arrived[-1]["fields"]
        assert f'"message_id": {note["message"]["message_id"]}' in fields["reply_parameters"]
        assert "parse_mode" not in fields


async def test_a_press_acts_once_and_its_button_goes(serving: Serving) -> None:
    async with serving.under_way():
        serving.found()
        await serving.hear(serving.mail.say(LEAD, STUCK))
        press = serving.mail.press(LEAD, serving.api.arrived[-1], "Undo")
        told = await serving.hear(press, press)
        assert len(told) == 1
        assert "stick" not in serving.acts()
        answered = await serving.until(lambda: serving.api.called("answerCallbackQuery"))
        assert answered[0].fields["callback_query_id"] == press["callback_query"]["id"]
        tidied = await serving.until(lambda: serving.api.called("editMessageReplyMarkup"))
        assert "Undo" not in tidied[0].fields.get("reply_markup", "")


async def test_a_group_is_bound_by_its_lead_and_its_people_are_members(serving: Serving) -> None:
    async with serving.under_way():
        other = -77
        assert await serving.hear(serving.mail.say(STRANGER, STUCK, chat=other)) == []
        await serving.hear(serving.mail.say(LEAD, serving.code(), name="Imke"))
        await serving.hear(serving.mail.say(LEAD, "hello", chat=GROUP, name="Imke"))
        (receipt,) = await serving.hear(serving.mail.say(31, STUCK, chat=GROUP, name="Ana Maria"))
        assert "26-001" in receipt
        assert serving.api.arrived[-1]["chat"] == GROUP
        assert len(await serving.hear(serving.mail.say(32, "misted tray 2", chat=GROUP, name="Ana"))) == 1
        with serving.store.reading(1) as books:
            assert [one.name for one in books.members()] == ["imke", "ana", "ana-2"]
            assert books.crew.group_chat == str(GROUP)
            assert books.crew.name == "Plover Landing"
        # A second group in which the lead only talks is not the crew's; one the lead calls the bot in is.
        assert await serving.hear(serving.mail.say(LEAD, "see you", chat=other)) == []
        assert len(await serving.hear(serving.mail.say(LEAD, "@plover_bench_bot hello", chat=other))) == 1


async def test_the_lead_lets_the_bot_in_and_a_reply_or_a_command_reaches_it(serving: Serving) -> None:
    """With privacy mode on, only commands and replies reach the bot."""
    async with serving.under_way():
        await serving.hear(serving.mail.say(LEAD, serving.code(), name="Imke"))
        await serving.hear(serving.mail.standing(LEAD, GROUP, "member"))
        (receipt,) = await serving.hear(serving.mail.say(OSEI, f"/{STUCK}", chat=GROUP, name="Osei"))
        assert "26-001" in receipt
        assert serving.rows()[0]["said"] == STUCK
        sent = serving.api.arrived[-1]["message_id"]
        await serving.hear(serving.mail.reply(OSEI, "lost 4 to rot", sent, chat=GROUP, name="Osei"))
        assert [(row["act"], row["lot"]) for row in serving.rows()] == [("stick", "26-001"), ("lose", "26-001")]
        assert await serving.hear(serving.mail.say(OSEI, "/undo@another_bot", chat=GROUP)) == []
        await serving.hear(serving.mail.say(OSEI, "/undo@plover_bench_bot", chat=GROUP))
        assert "lose" not in serving.acts()
        await serving.hear(serving.mail.standing(LEAD, GROUP, "left"))
        assert serving.store.crew_of_chat("telegram", str(GROUP)) is None


async def test_edits_amend_in_any_order_and_an_unchanged_one_changes_nothing(serving: Serving) -> None:
    mail = serving.mail
    async with serving.under_way():
        serving.found()
        note = mail.say(LEAD, STUCK)
        first, second = mail.edit(note, STUCK.replace("72", "70"), at=9), mail.edit(note, STUCK.replace("72", "71"), 9)
        stale, same = mail.edit(note, STUCK.replace("72", "10"), at=3), mail.edit(note, STUCK.replace("72", "71"), 20)
        await serving.hear(note, first)
        await serving.hear(second, first)
        assert await serving.hear(stale, same, note) == []
        assert [(row["count"], row["lot"]) for row in serving.rows() if row["act"] == "stick"] == [(71, "26-001")]
        late = mail.say(LEAD, "sowed 200 toyon seed, tray 9")
        await serving.hear(mail.edit(late, "sowed 210 toyon seed, tray 9", at=40))
        assert await serving.hear(late) == []
        assert [row["count"] for row in serving.rows() if row["act"] == "sow"] == [210]


async def test_redelivered_and_shuffled_batches_double_nothing_and_the_offset_only_grows(serving: Serving) -> None:
    mail, api = serving.mail, serving.api
    async with serving.under_way():
        serving.found()
        notes = [mail.say(LEAD, f"misted tray {tray}") for tray in range(1, 9)]
        api.put_batch([notes[3], notes[0], notes[2], notes[1]])
        api.put_batch([notes[1], notes[0]])
        api.put_batch([notes[5], notes[4], notes[5], notes[2]])
        api.put(*notes[6:])
        await serving.settled()
        assert serving.acts().count("water") == 8
        trays = [row["trays"] for row in serving.rows() if row["act"] == "water"]
        assert sorted(tray for one in trays for tray in one) == [str(tray) for tray in range(1, 9)]
        assert len(api.texts(LEAD)) == 8
    offsets = [int(call.fields["offset"]) for call in api.called("getUpdates") if "offset" in call.fields]
    assert offsets == sorted(offsets)
    assert offsets[-1] == notes[-1]["update_id"] + 1


async def test_the_next_batch_is_asked_for_only_when_this_one_is_committed(serving: Serving) -> None:
    async with serving.under_way():
        serving.found()
        committed: list[tuple[int, int]] = []
        ask = serving.api._getUpdates

        def watched(fields: dict[str, str]) -> object:
            committed.append((int(fields.get("offset") or 0), len(serving.rows())))
            return ask(fields)

        serving.api._getUpdates = watched  # type: ignore[method-assign]
        before = len(serving.rows())
        first, *rest = [serving.mail.say(LEAD, f"misted tray {tray}") for tray in range(1, 16)]
        await serving.hear(first, *rest)
        for offset, rows in committed:
            if offset > first["update_id"]:
                assert rows - before >= offset - first["update_id"]
        assert committed[-1] == (rest[-1]["update_id"] + 1, before + 15)


async def test_an_update_that_cannot_be_read_is_kept_and_the_rest_goes_on(serving: Serving) -> None:
    mail = serving.mail
    async with serving.under_way():
        serving.found()
        dateless = mail.say(LEAD, "misted tray 1")
        del dateless["message"]["date"]
        odd = [
            dateless, mail.update(message={"text": "?"}), mail.update(message=[1, 2]), mail.update(message=7),
            mail.update(callback_query={"id": 3}), mail.update(edited_message=None, poll={"id": True}),
            mail.say(LEAD, "misted", date=10**40), mail.update(message={"message_id": "x", "date": "y", "chat": {}}),
            mail.say(LEAD, {"a": 1}),  # type: ignore[arg-type]
        ]  # fmt: skip
        good = mail.say(LEAD, "misted tray 3")
        serving.api.put_batch([*odd, "words", None, 5, {"no": "number"}, good])
        serving.api.put_batch([dateless])
        await serving.settled()
        assert [row["trays"] for row in serving.rows() if row["act"] == "water"] == [["3"]]
        assert len(serving.api.texts()) == 1
        kept = [raw for raw, _ in serving.refused()]
        assert len(kept) == len(odd) + 4
        assert json.loads(kept[0]) in odd
        assert sum("misted tray 1" in raw for raw in kept) == 1
    polls = serving.api.called("getUpdates")
    assert int(polls[-1].fields["offset"]) == good["update_id"] + 1


async def test_strange_messages_get_one_short_answer_and_record_nothing(serving: Serving) -> None:
    mail = serving.mail
    sticker = {"file_id": "s", "file_unique_id": "u", "type": "regular", "width": 1, "height": 1,
               "is_animated": False, "is_video": False}  # fmt: skip
    async with serving.under_way():
        serving.found()
        for update in (
            mail.say(LEAD, sticker=sticker),
            mail.say(LEAD, voice={"file_id": "v", "file_unique_id": "u", "duration": 2}),
            mail.say(LEAD, location={"longitude": 1.0, "latitude": 2.0}),
            mail.say(LEAD, ""),
            mail.say(LEAD, "/frobnicate"),
            mail.say(LEAD, "\u202e\u0007\u200f"),
            mail.say(LEAD, "'; drop table record; --"),
            mail.say(LEAD, "<b>lot</b> &amp;"),
        ):
            told = await serving.hear(update)
            assert len(told) == 1, update
            assert len(told[0]) < 400
        service = mail.say(LEAD, new_chat_members=[{"id": 5, "is_bot": False, "first_name": "New"}], chat=GROUP)
        pinned = mail.say(LEAD, new_chat_title="Other", chat=GROUP)
        assert await serving.hear(service, pinned) == []
        assert [act for act in serving.acts() if act != "note"] == []


async def test_pictures_are_fetched_into_the_media_folder(serving: Serving) -> None:
    sizes = [{"file_id": f"AgAC-{width}_x", "file_unique_id": f"u{width}", "width": width, "height": width}
             for width in (90, 800, 320)]  # fmt: skip
    serving.api.files["AgAC-800_x"] = b"\xff\xd8 picture"
    async with serving.under_way():
        serving.found()
        await serving.hear(serving.mail.say(LEAD, STUCK))
        await serving.hear(serving.mail.say(LEAD, photo=sizes, caption="lot 1 31/72 rooted"))
        wanted = Path(serving.settings.media) / "telegram" / "AgAC-800_x.jpg"
        await serving.until(wanted.exists)
        assert wanted.read_bytes() == b"\xff\xd8 picture"
    with serving.store.reading(1) as books:
        assert [photo.file for photo in books.photos("26-001")] == ["telegram/AgAC-800_x.jpg"]
    wanted.unlink()
    assert missing_pictures(serving.store, Path(serving.settings.media)) == ("telegram/AgAC-800_x.jpg",)


async def test_an_album_is_answered_once_and_all_its_pictures_belong_to_the_lot(serving: Serving) -> None:
    def picture(number: int, **more: str) -> dict[str, Any]:
        size = {"file_id": f"P{number}", "file_unique_id": f"u{number}", "width": 9, "height": 9}
        return serving.mail.say(LEAD, photo=[size], media_group_id="880", **more)

    async with serving.under_way():
        serving.found()
        await serving.hear(serving.mail.say(LEAD, STUCK))
        album = [picture(1, caption="lot 1 31/72 rooted"), picture(2), picture(3)]
        assert len(await serving.hear(*album, album[0], album[2])) == 1
    with serving.store.reading(1) as books:
        assert [photo.file for photo in books.photos("26-001")] == [f"telegram/P{number}.jpg" for number in (1, 2, 3)]


async def test_a_group_that_moved_keeps_its_crew(serving: Serving) -> None:
    mail, new = serving.mail, -2002
    async with serving.under_way():
        serving.found()
        await serving.hear(mail.say(OSEI, STUCK, chat=GROUP))
        early = mail.say(OSEI, "misted tray 2", chat=GROUP)
        moved = mail.update(message=mail.message(OSEI, chat=GROUP, migrate_to_chat_id=new))
        await serving.hear(moved, mail.update(message=mail.message(OSEI, chat=new, migrate_from_chat_id=GROUP)))
        await serving.hear(early)
        assert serving.api.arrived[-1]["chat"] == new
        await serving.hear(mail.say(OSEI, "lot 1 lost 4 to rot", chat=new))
        assert serving.acts() == ["stick", "water", "lose"]
        with serving.store.reading(1) as books:
            assert books.crew.group_chat == str(new)


async def test_polls_go_on_through_every_failure(serving: Serving) -> None:
    faults = [
        Fault(500), Fault(502), Fault(kind="reset"), Fault(kind="babble"), Fault(429, parameters={"retry_after": 1}),
        Fault(409, "Conflict: terminated by other getUpdates request"),
    ]  # fmt: skip
    async with serving.under_way():
        serving.found()
        for fault in faults:
            serving.api.fail("getUpdates", fault)
            serving.api.put(serving.mail.say(LEAD, f"misted tray {faults.index(fault) + 1}"))
            await serving.settled()
    assert serving.acts().count("water") == len(faults)
    assert len(serving.api.texts(LEAD)) == len(faults)


async def test_a_start_without_telegram_waits_for_it(serving: Serving) -> None:
    serving.api.fail("getMe", Fault(502), Fault(kind="reset"))
    async with serving.under_way():
        await serving.until(lambda: "Listening" in serving.out.getvalue())
    assert "does not answer yet" in serving.out.getvalue()


async def test_a_turn_that_always_fails_is_kept_told_of_and_the_rest_goes_on(
    serving: Serving, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A fault of ours, made on purpose: nothing else can show what happens then."""

    def faulty(store: Store, crew: int, message: Message, now: datetime, say: Say) -> Turn:
        if "sesquipedalian" in message.text:
            raise ZeroDivisionError("made on purpose")
        return take_turn(store, crew, message, now, say)

    monkeypatch.setattr("bot.serving.take_turn", faulty)
    async with serving.under_way():
        serving.found()
        bad = serving.mail.say(LEAD, "sesquipedalian tray 1")
        told = await serving.hear(bad, serving.mail.say(LEAD, "misted tray 2"))
        assert told[0] == COULD_NOT_WORK
        assert len(told) == 2
        assert serving.acts() == ["water"]
        assert await serving.hear(bad) == []
        assert [why for _, why in serving.refused()] == ["ZeroDivisionError: made on purpose"] * 1
    with serving.store.reading(1) as books:
        kept = books.message(str(LEAD), str(bad["message"]["message_id"]))
    assert kept is not None
    assert kept.text == "sesquipedalian tray 1"


async def test_reminders_come_by_themselves_and_done_is_a_press(serving: Serving) -> None:
    async with serving.under_way():
        serving.found()
        await serving.hear(serving.mail.say(LEAD, "remind me in 1 min to open the vents", chat=GROUP))
        serving.began_at += timedelta(minutes=2)
    serving.api.arrived.clear()
    async with serving.under_way():
        reminder = await serving.until(lambda: next((one for one in serving.api.arrived if one["buttons"]), None))
        assert "vents" in reminder["text"]
        label = reminder["buttons"][0][0]
        assert len(await serving.hear(serving.mail.press(LEAD, reminder, label))) == 1
        with serving.store.reading(1) as books:
            assert books.open_reminders() == ()


async def test_trying_the_console_first_does_not_keep_the_crew_from_a_lead(serving: Serving) -> None:
    with serving.store.books(1) as books:
        books.name_crew(code="x")
        books.join("you", "console", "you", "lead", private_chat="console")
        books.meet_in("console", "console")
    ready_crews(serving.store, serving.settings)
    async with serving.under_way():
        await serving.hear(serving.mail.say(LEAD, serving.code(), name="Imke"))
        await serving.hear(serving.mail.say(LEAD, "hello", chat=GROUP))
        with serving.store.reading(1) as books:
            assert books.crew.lead == "imke"
            assert books.crew.group_chat == str(GROUP)


def test_an_empty_code_lets_nobody_in(serving: Serving) -> None:
    crew = serving.store.found_crew("Second", ZoneInfo("UTC"), "")
    at = serving.clock()
    assert not turn_away(
        serving.store, crew.number, channel="telegram", user_id="9", name="N", chat="9", message_id="1", text="",
        now=at, say=say_in(ZoneInfo("UTC")),
    )  # fmt: skip
    ready_crews(serving.store, serving.settings)
    codes = [one.code for one in serving.store.crews()]
    assert all(len(code) == 11 for code in codes)
    assert len(set(codes)) == 2


async def test_a_code_of_another_crew_moves_a_strangers_chat_there(serving: Serving) -> None:
    second = serving.store.found_crew("Heron Bank", ZoneInfo("UTC"), "second-code")
    async with serving.under_way():
        serving.found()
        await serving.hear(serving.mail.say(STRANGER, "hello"))
        (welcome,) = await serving.hear(serving.mail.say(STRANGER, "second-code", name="Tove"))
        assert "Heron Bank" in welcome
        await serving.hear(serving.mail.say(STRANGER, "misted tray 3"))
    assert [row["by"] for row in serving.store.export_rows(second.number)] == ["tove"]
    assert serving.rows() == []


async def test_it_serves_on_each_database(api: BotApi, tmp_path: Path, store: Store) -> None:
    serving = Serving(api, store, tmp_path)
    async with serving.under_way():
        serving.found()
        note = serving.mail.say(LEAD, STUCK)
        (receipt,) = await serving.hear(note, note)
        assert "26-001" in receipt
        await serving.hear(serving.mail.press(LEAD, api.arrived[-1], "Undo"))
        # No text of a database's holds a zero, and no UTF-8 half a pair.
        odd = serving.mail.say(LEAD, "misted tray 3 \x00 \ud83c", name="\ud83c\x00")
        assert len(await serving.hear(odd, serving.mail.say(LEAD, "misted tray 4"))) == 2
    assert serving.acts().count("water") >= 1
    assert "stick" not in serving.acts()
