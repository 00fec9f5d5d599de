"""The outbox is emptied in order, within the limits, whatever Telegram answers."""

from __future__ import annotations

import itertools
from collections import defaultdict

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.pacing import Limits, Pacer
from bot.postman import LONGEST_TEXT, in_pieces, length_of, letters_of, mentions_in
from core.storage import OutboxMessage
from tests.bot.bot_api_stand_in import Fault
from tests.bot.conftest import GROUP, LEAD, OSEI, Serving

CLOCK_TICK = 0.02
"""An event loop may wake as much as a tick of its clock before the time asked for."""

REPEAT = "(possibly repeated)"


def post(serving: Serving, chat: int, *texts: str, **more: object) -> None:
    with serving.store.books(1) as books:
        books.know_chat("telegram", str(chat), private=chat > 0)
        for text in texts:
            books.post(chat=str(chat), text=text, at=serving.clock(), channel="telegram", **more)  # type: ignore[arg-type]


async def test_each_chat_hears_in_order_through_every_passing_fault(serving: Serving) -> None:
    passing = [
        Fault(500), Fault(429, parameters={"retry_after": 0.05}), Fault(502), Fault(kind="reset"), Fault(kind="babble"),
    ]  # fmt: skip
    serving.api.fail("sendMessage", *passing, *passing)
    chats = (101, 102, 103, -104)
    for number in range(6):
        for chat in chats:
            post(serving, chat, f"line {number}")
    async with serving.under_way():
        await serving.until(lambda: set(serving.states()) == {"sent"} and len(serving.api.arrived) == 24)
    for chat in chats:
        assert [text.split("\n")[0] for text in serving.api.texts(chat)] == [f"line {number}" for number in range(6)]
    assert any(REPEAT in text for text in serving.api.texts())


async def test_an_answer_lost_after_delivery_is_repeated_once_and_says_so(serving: Serving) -> None:
    serving.api.fail("sendMessage", Fault(kind="lost"))
    post(serving, 101, "cover back on tray 2", "and then")
    async with serving.under_way():
        await serving.until(lambda: serving.states() == ["sent", "sent"])
    assert serving.api.texts() == ["cover back on tray 2", f"cover back on tray 2\n{REPEAT}", "and then"]


async def test_a_wait_is_kept_and_holds_up_only_its_chat(serving: Serving) -> None:
    serving.api.fail("sendMessage", Fault(429, parameters={"retry_after": 3600}))
    post(serving, 101, "first")
    async with serving.under_way():
        await serving.until(lambda: len(serving.api.called("sendMessage")) == 1)
        post(serving, 101, "second")
        post(serving, 102, "other")
        await serving.until(lambda: serving.api.texts() == ["other"])
    with serving.store.reading(1) as books:
        first = books.posted([1])[0]
    assert first.state == "waiting"
    assert first.retry_at is not None
    assert (first.retry_at - serving.clock()).total_seconds() > 3590
    assert not first.doubtful


async def test_a_blocked_bot_parks_the_chat_until_somebody_writes_there(serving: Serving) -> None:
    async with serving.under_way():
        serving.found()
        serving.api.blocked.add(OSEI)
        post(serving, OSEI, "one", "two")
        await serving.until(lambda: serving.states()[-2:] == ["unreachable", "waiting"])
        calls = len(serving.api.called("sendMessage"))
        post(serving, OSEI, "three")
        post(serving, LEAD, "meanwhile")
        await serving.until(lambda: "meanwhile" in serving.api.texts(LEAD))
        assert len(serving.api.called("sendMessage")) == calls + 1
        serving.api.blocked.clear()
        serving.api.put(serving.mail.say(OSEI, "hello"))
        await serving.until(lambda: len(serving.api.texts(OSEI)) == 3)
    assert serving.api.texts(OSEI)[:2] == ["two", "three"]


async def test_a_moved_group_hears_under_its_new_number(serving: Serving) -> None:
    async with serving.under_way():
        serving.found()
        serving.api.moved[GROUP] = -2002
        post(serving, GROUP, "one", "two")
        await serving.until(lambda: serving.api.texts(-2002) == ["one", "two"])
        with serving.store.reading(1) as books:
            assert books.crew.group_chat == "-2002"


async def test_what_is_refused_is_given_up_and_the_next_goes_on(serving: Serving) -> None:
    serving.api.fail("sendMessage", Fault(400, "Bad Request: message text is empty"))
    post(serving, 101, "one", "two")
    async with serving.under_way():
        await serving.until(lambda: serving.states() == ["refused", "sent"])
    assert serving.api.texts() == ["two"]


async def test_long_texts_come_in_pieces_cut_between_lines(serving: Serving) -> None:
    lines = [f"lot 26-{number:03} {'x' * 60}" for number in range(150)]
    with serving.store.books(1) as books:
        books.know_chat("telegram", "101")
        books.post(
            chat="101", text="\n".join(lines), at=serving.clock(), channel="telegram", reply_to="9",
            buttons=[("Undo", {"drop": True})],
        )  # fmt: skip
    async with serving.under_way():
        await serving.until(lambda: serving.states() == ["sent"])
    pieces = serving.api.arrived
    assert "\n".join(one["text"] for one in pieces) == "\n".join(lines)
    assert [bool(one["buttons"]) for one in pieces] == [False] * (len(pieces) - 1) + [True]
    assert ["reply_parameters" in one["fields"] for one in pieces] == [True] + [False] * (len(pieces) - 1)


async def test_a_piece_that_fails_does_not_repeat_those_before_it(serving: Serving) -> None:
    post(serving, 101, "\n".join(f"{number} {'y' * 1000}" for number in range(12)))
    api, arrive = serving.api, serving.api._arrive
    failed = []

    def second_fails(fields: dict[str, str], text: str) -> object:
        if len(api.arrived) == 1 and not failed:
            failed.append(text)
            return Fault(500)
        return arrive(fields, text)

    api._arrive = second_fails  # type: ignore[method-assign]
    async with serving.under_way():
        await serving.until(lambda: serving.states() == ["sent"])
    assert failed
    assert [text.split(" ")[0] for text in api.texts()] == ["0", "4", "8"]


async def test_a_reminder_calls_those_it_names_and_an_answer_calls_nobody(serving: Serving) -> None:
    async with serving.under_way():
        serving.found()
        post(serving, GROUP, "imke and osei: cover back on tray 2")
        await serving.until(lambda: serving.api.texts(GROUP))
        entities = serving.api.arrived[-1]["fields"]["entities"]
    assert f'"id": {LEAD}' in entities
    assert f'"id": {OSEI}' in entities
    assert "text_mention" in entities


class NotingPacer(Pacer):
    """A pacer that keeps the turns it gave, in seconds of the clock that the stand-in reads too."""

    def __init__(self, limits: Limits) -> None:
        super().__init__(limits)
        self.turns: dict[str, list[float]] = defaultdict(list)

    def book(self, chat: str, now: float, *, group: bool) -> float:
        wait = super().book(chat, now, group=group)
        self.turns[chat].append(now + wait)
        return wait


async def test_nothing_arrives_before_the_turn_that_keeps_telegrams_limits(serving: Serving) -> None:
    """A busy machine may be late, never early: so each message is held against its own turn, not against another's."""
    serving.pacer = pacer = NotingPacer(
        Limits(chat_gap_seconds=0.1, group_count=5, group_seconds=0.8, all_count=10, all_seconds=0.35)
    )
    for number in range(8):
        for chat in (101, 102, 103, -104):
            post(serving, chat, f"line {number}")
    async with serving.under_way():
        await serving.until(lambda: len(serving.api.arrived) == 32, seconds=30)
    at = defaultdict(list)
    for one in serving.api.arrived:
        at[str(one["chat"])].append(one["at"])
    assert {chat: len(turns) for chat, turns in pacer.turns.items()} == dict.fromkeys(at, 8)
    for chat, turns in pacer.turns.items():
        assert all(arrived >= turn - CLOCK_TICK for arrived, turn in zip(at[chat], turns, strict=True))
        assert all(later - sooner >= 0.1 - CLOCK_TICK for sooner, later in itertools.pairwise(turns))
    group = pacer.turns["-104"]
    assert all(later - sooner >= 0.8 - CLOCK_TICK for sooner, later in zip(group, group[5:], strict=False))
    everything = sorted(itertools.chain(*pacer.turns.values()))
    assert all(later - sooner >= 0.35 - CLOCK_TICK for sooner, later in zip(everything, everything[10:], strict=False))


@settings(max_examples=100, deadline=None)
@given(
    asks=st.lists(
        st.tuples(st.sampled_from(["1", "2", "3", "-4"]), st.floats(0, 1.5, allow_nan=False)), min_size=1, max_size=150
    )
)
def test_no_window_ever_holds_more_than_telegrams_limits(asks: list[tuple[str, float]]) -> None:
    """https://core.telegram.org/bots/faq: one a second in a chat, 20 a minute in a group, 30 a second in all."""
    pacer, now = Pacer(Limits()), 0.0
    at: dict[str, list[float]] = defaultdict(list)
    for chat, gap in asks:
        now += gap
        at[chat].append(now + pacer.book(chat, now, group=chat.startswith("-")))
    for turns in at.values():
        assert all(later - sooner >= 1 - 1e-9 for sooner, later in itertools.pairwise(turns))
    assert all(later - sooner >= 60 - 1e-9 for sooner, later in zip(at["-4"], at["-4"][20:], strict=False))
    everything = sorted(itertools.chain(*at.values()))
    assert all(later - sooner >= 1 - 1e-9 for sooner, later in zip(everything, everything[30:], strict=False))


@settings(max_examples=150, deadline=None)
@given(text=st.text(alphabet="ab \n🌱é", max_size=120), longest=st.integers(2, 25))
def test_pieces_fit_and_lose_no_word(text: str, longest: int) -> None:
    pieces = in_pieces(text, longest)
    assert all(0 < length_of(piece) <= longest for piece in pieces)
    assert "".join("".join(pieces).split()) == "".join(text.split())


def test_a_text_within_the_limit_stays_whole() -> None:
    assert in_pieces("x" * LONGEST_TEXT) == ["x" * LONGEST_TEXT]
    assert [len(piece) for piece in in_pieces("🌱" * 4096)] == [2048, 2048]


@pytest.mark.parametrize(
    ("text", "called"),
    [
        ("imke: tray 2", [(0, 4, 7)]),
        ("🌱 Imke and osei: x\nosei: bring pots", [(3, 4, 7), (12, 4, 8), (20, 4, 8)]),
        ("tray 2: imke did it", []),
        ("imke did it", []),
    ],
)
def test_names_before_a_colon_are_called(text: str, called: list[tuple[int, int, int]]) -> None:
    assert list(mentions_in(text, {"imke": 7, "osei": 8})) == called


def test_a_doubtful_message_says_so_under_its_last_line(tmp_path: object) -> None:
    message = OutboxMessage(
        number=1, crew=1, channel="telegram", chat="5", text="vents on tray 2", state="sending", doubtful=True,
        reply_to="q17",
    )  # fmt: skip
    (letter,) = letters_of(message, tmp_path)  # type: ignore[arg-type]
    assert letter.text == f"vents on tray 2\n{REPEAT}"
    assert letter.reply_to is None


async def test_a_picture_is_drawn_by_the_one_who_sends_it(serving: Serving) -> None:
    serving.found()
    async with serving.under_way():
        await serving.hear(serving.mail.say(LEAD, "stuck 72 coyote brush tips, tray 1"))
        told = await serving.hear(serving.mail.say(LEAD, "season report"))
    assert any("72 started" in text for text in told)
    pages = list((serving.folder / "media").glob("season-1-*.pdf"))
    assert [page.read_bytes()[:4] for page in pages] == [b"%PDF"]
