"""How a sending came out: every way it can fail over real HTTP, and what follows by the table."""

from __future__ import annotations

import warnings
from collections.abc import AsyncIterator
from datetime import timedelta

import httpx
import pytest
from telegram import error as errors

from bot.outcomes import FOLLOWS, Moved, NotSent, Outcome, Refused, Sent, Unknown, Unreachable, Wait, pause_before
from bot.telegram_door import (
    AnyApplication,
    Letter,
    build_application,
    open_application,
    outcome_of,
    seconds_to_wait,
    send_letter,
)
from tests.bot.bot_api_stand_in import TOKEN, USERNAME, BotApi, Fault


@pytest.fixture
async def application(api: BotApi) -> AsyncIterator[AnyApplication]:
    built, _ = build_application(TOKEN, api.address)
    assert await open_application(built, [("help", "what to text")]) == (4242, USERNAME)
    yield built
    await built.shutdown()


@pytest.mark.parametrize(
    ("fault", "outcome", "arrives"),
    [
        (Fault(429, "Too Many Requests", {"retry_after": 7}), Wait(seconds=7), 0),
        (Fault(403, "Forbidden: bot was blocked by the user"), Unreachable, 0),
        (Fault(400, "Bad Request: chat not found"), Unreachable, 0),
        (Fault(400, "Bad Request: not enough rights to send text messages to the chat"), Unreachable, 0),
        (Fault(400, "Bad Request: message text is empty"), Refused, 0),
        (Fault(400, "upgraded", {"migrate_to_chat_id": -100200}), Moved(chat="-100200"), 0),
        (Fault(500, "Internal Server Error"), Unknown, 0),
        (Fault(502, "Bad Gateway"), Unknown, 0),
        (Fault(401, "Unauthorized"), NotSent, 0),
        (Fault(kind="reset"), Unknown, 0),
        (Fault(kind="lost"), Unknown, 1),
        (Fault(kind="babble"), Unknown, 0),
        (None, Sent, 1),
    ],
)
async def test_each_fault_is_its_outcome(
    api: BotApi, application: AnyApplication, fault: Fault | None, outcome: Outcome | type, arrives: int
) -> None:
    if fault is not None:
        api.fail("sendMessage", fault)
    came = await send_letter(application, Letter(chat="5", text="hello"))
    assert came == outcome or type(came) is outcome
    assert len(api.arrived) == arrives
    assert len(api.called("sendMessage")) == 1


async def test_no_connection_is_not_sent(application: AnyApplication, api: BotApi) -> None:
    api.close()
    lonely, _ = build_application(TOKEN, api.address)
    await lonely.bot._request[1].initialize()
    assert isinstance(await send_letter(lonely, Letter(chat="5", text="hello")), NotSent)
    await lonely.bot._request[1].shutdown()


async def test_words_come_where_what_hangs_on_them_is_refused(api: BotApi, application: AnyApplication) -> None:
    api.fail("sendMessage", Fault(400, "Bad Request: BUTTON_DATA_INVALID"))
    sent = await send_letter(application, Letter(chat="5", text="hello", buttons=(("Undo", "a.0"),), reply_to=4))
    assert isinstance(sent, Sent)
    assert api.texts() == ["hello"]
    assert api.arrived[0]["buttons"] == []


def test_the_order_of_kinds_is_the_narrow_before_the_wide() -> None:
    """`BadRequest` and `TimedOut` are kinds of `NetworkError` in the library (telegram/error.py)."""
    assert issubclass(errors.BadRequest, errors.NetworkError)
    assert issubclass(errors.TimedOut, errors.NetworkError)
    assert isinstance(outcome_of(errors.BadRequest("no")), Refused)
    for cause, outcome in (
        (httpx.ReadTimeout("late"), Unknown),
        (httpx.ConnectTimeout("late"), NotSent),
        (httpx.PoolTimeout("full"), NotSent),
        (httpx.ConnectError("nobody"), NotSent),
        (httpx.ReadError("gone"), Unknown),
        (httpx.WriteTimeout("late"), Unknown),
        (httpx.RemoteProtocolError("broken"), Unknown),
    ):
        wrong = errors.TimedOut() if isinstance(cause, httpx.TimeoutException) else errors.NetworkError(str(cause))
        wrong.__cause__ = cause
        assert type(outcome_of(wrong)) is outcome, cause


def test_a_flood_answer_is_seconds_in_both_forms() -> None:
    """The library has a number of seconds now and a timedelta later, and warns of the change."""
    with warnings.catch_warnings(record=True):
        told = [errors.RetryAfter(12), errors.RetryAfter(timedelta(seconds=12))]
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        assert [seconds_to_wait(one) for one in told] == [12, 12]


def test_what_follows() -> None:
    assert set(FOLLOWS) == {Sent, Wait, NotSent, Unknown, Refused, Unreachable, Moved}
    for over in (Sent(message_id="1"), Refused(why=""), Unreachable(why="")):
        assert pause_before(over, 1) is None
    assert pause_before(Wait(seconds=7), 50) == 7
    assert pause_before(Moved(chat="5"), 1) == 0
    pauses = [pause_before(NotSent(why=""), tried) for tried in range(1, 200)]
    assert None not in pauses
    assert pauses[-1] == 60
    doubtful = [pause_before(Unknown(why=""), tried) for tried in range(1, 9)]
    assert doubtful[-1] is None
    assert None not in doubtful[:-1]
