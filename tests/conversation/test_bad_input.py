"""Whatever is texted gets a short answer or a question, records nothing that was not said, and never breaks."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from core.storage import Store
from tests.conversation.talking import Talk

FORTY_DIGITS = "1234567890" * 4
CONFUSING = (
    "",
    "   ",
    "👍",
    "🌱🌱",
    "?!",
    "/",
    "/frobnicate",
    "'; DROP TABLE lots; --",
    "<b>misted</b>",
    "\u202eno evil\u202c",
    "\x00\x01\x07",
    "misted\u200btray\u200b2",
    "a" * 4096,
    "misted tray 2 " * 292,
    "lot " * 1000,
    FORTY_DIGITS,
    "-5",
    "0",
    "½",
    "\n\n\n",
    "lot lot lot",
    "ooo ooo",
)


@pytest.mark.parametrize("text", CONFUSING, ids=lambda text: repr(text[:20]))
def test_nothing_is_recorded_but_the_words(talk: Talk, text: str) -> None:
    talk.say("stuck 72 coyote brush tips, tray 2")
    before = talk.lot("26-001")
    answer = talk.say(text)
    assert answer.strip()
    assert len(answer) <= 4096
    assert talk.lot("26-001") == before or "misted" in text


def test_a_number_of_forty_digits_is_asked_again(talk: Talk) -> None:
    talk.say("stuck 72 coyote brush tips, tray 2")
    assert talk.say(f"lost {FORTY_DIGITS} of lot 1") == "How many were lost (lot 1)?"
    assert talk.lot("26-001").lost == 0
    talk.say("3")
    assert talk.lot("26-001").lost == 3


def test_a_year_that_nobody_will_see_is_asked_for(talk: Talk) -> None:
    talk.say("stuck 72 coyote brush tips, tray 2")
    assert talk.say("lot 1 misted on 3 mar 9999") == "Which day?"
    assert "water" not in talk.acts()


def test_a_count_above_what_is_alive_is_asked(talk: Talk) -> None:
    talk.say("stuck 72 coyote brush tips, tray 2")
    assert talk.say("potted 99 of lot 1").startswith("The books have 72 left in 26-001, and that is 99.")
    assert talk.buttons() == ["Yes", "No"]
    talk.press("No")
    assert talk.lot("26-001").potted == 0


def test_markup_is_kept_as_it_was_typed(talk: Talk) -> None:
    talk.say("need <perlite> & 'tags'")
    assert talk.rows()[-1]["said"] == "need <perlite> & 'tags'"


def test_signs_alone_record_nothing(talk: Talk) -> None:
    assert talk.say("👍").startswith("Seen")
    assert talk.acts() == []


@pytest.mark.parametrize("said", ["", " ", "👍", "...", "?"])
def test_signs_alone_answer_no_count(talk: Talk, said: str) -> None:
    talk.say("stuck 72 coyote brush tips, tray 2")
    asked = talk.say("potted")
    assert "how many" in asked.lower()
    assert talk.say(said)
    assert talk.faults() == []
    assert "potted 20" in talk.say("20")


def test_an_unknown_command_says_so(talk: Talk) -> None:
    assert talk.say("/frobnicate") == 'I know no /frobnicate. Plain words do: "help" shows how.'
    assert talk.acts() == []


def test_a_command_is_its_words(talk: Talk) -> None:
    talk.say("stuck 72 coyote brush tips, tray 2")
    assert talk.say("/misted tray 2").startswith("Lot 26-001, tray 2: misted.")


WORDS = st.sampled_from(
    [
        "lot", "1", "2", "14", "tray", "trays", "rooted", "31/72", "lost", "4", "to", "rot", "stuck", "72", "tips",
        "coyote", "brush", "sowed", "seed", "potted", "all", "none", "misted", "dome", "off", "on", "aired", "20",
        "min", "sold", "gave", "split", "merged", "into", "as", "undo", "no", "wait", "yes", "done", "later", "skip",
        "not", "yet", "yesterday", "9am", "the", "same", "first", "bleach", "1:9", "gal", "mixed", "how", "many",
        "of", "are", "?", "what's", "due", "when", "hold", "cleared", "cold", "strat", "90", "days", "out", "fridge",
        "make", "that", "27", "%", "jug", "says", "half", "vented", "picture", "each", "and", ",", "\u202e", "#",
        "26-001",
    ]
)  # fmt: skip
TEXTS = st.one_of(st.text(max_size=60), st.lists(WORDS, max_size=9).map(" ".join))


@given(said=st.lists(TEXTS, min_size=1, max_size=6), edited=st.booleans())
@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_any_text_gets_an_answer_and_never_breaks(store: Store, said: list[str], edited: bool) -> None:
    talk = Talk(store, group=f"group {len(store.crews())}")
    talk.say("stuck 72 coyote brush tips, tray 2, domed")
    for number, text in enumerate(said):
        talk.wait(minutes=7)
        answer = talk.say(text, by=("imke", "osei")[number % 2])
        assert 0 < len(answer) <= 4096
    if edited:
        assert talk.say(said[-1], message_id="m2", edit=1)
    assert talk.faults() == []
