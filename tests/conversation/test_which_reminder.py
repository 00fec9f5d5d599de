"""Which of several open reminders is done: told by number, by name, by "both", or in the note itself."""

from __future__ import annotations

import pytest

from tests.conversation.talking import Talk


@pytest.fixture
def open_three(talk: Talk) -> Talk:
    """Vents of trays 3 and 4 and a word about the printer, all said and unanswered, in three messages."""
    talk.say("on 3 feb stuck 30 toyon tips, tray 3, domed")
    talk.say("on 3 feb stuck 30 toyon tips, tray 4, domed")
    talk.say("remind me to call the printer at 9:20am")
    for _ in range(125):
        talk.remind(minutes=1)
    return talk


def names(talk: Talk) -> list[str]:
    with talk.store.reading(talk.crew) as books:
        return sorted(
            str(one.due.facts.get("text") or f"{one.due.kind} {one.due.subject.name}")
            for one in books.open_reminders(sent=True)
        )


OPEN = ["call the printer", "daily_look 3", "daily_look 4", "vent 3", "vent 4"]


def test_a_job_without_a_place_is_all_that_one_message_asked_for(open_three: Talk) -> None:
    open_three.say("done the vents")
    assert names(open_three) == [one for one in OPEN if not one.startswith("vent")]


@pytest.mark.parametrize(
    ("answer", "closed"),
    [
        ("the printer", ["call the printer"]),
        ("vents on tray 4", ["vent 4"]),
        ("the vents of trays 3 and the printer", ["call the printer", "vent 3"]),
        ("all of them", OPEN),
        ("none", []),
        ("what's due tomorrow", []),
        ("watered the fern bench", []),
    ],
)
def test_a_name_answers_which_one_is_done(open_three: Talk, answer: str, closed: list[str]) -> None:
    assert names(open_three) == OPEN
    assert open_three.say("done").startswith("Several things are open. Which one is done?\n1. ")
    open_three.say(answer)
    assert names(open_three) == [one for one in OPEN if one not in closed]


@pytest.mark.parametrize(
    ("answer", "places"), [("1", [0]), ("the second", [1]), ("2 and 3", [1, 2]), ("number 5", [4])]
)
def test_a_number_answers_by_its_place_in_the_list(open_three: Talk, answer: str, places: list[int]) -> None:
    listed = open_three.say("skip").splitlines()[1:]
    open_three.say(answer)
    left = open_three.say("skip").splitlines()[1:]
    kept = [line.partition(". ")[2] for place, line in enumerate(listed) if place not in places]
    assert [line.partition(". ")[2] for line in left] == kept


def test_a_name_that_fits_several_is_asked_again_among_those(open_three: Talk) -> None:
    open_three.say("done")
    asked = open_three.say("tray 3")
    assert asked.splitlines()[1:] == ["1. look under the cover, tray 3", "2. vents, tray 3"]
    assert open_three.say("2") == "Lot 26-001, tray 3: vents a quarter."
    assert names(open_three) == [one for one in OPEN if one != "vent 3"]


@pytest.mark.parametrize(
    ("words", "closed"),
    [
        ("done with the printer", ["call the printer"]),
        ("vents tray 4 done", ["vent 4"]),
        ("skip look under the cover tray 3", ["daily_look 3"]),
        ("done with tray 9", []),
        ("done tray 9", []),
    ],
)
def test_words_that_name_a_reminder_need_no_question(open_three: Talk, words: str, closed: list[str]) -> None:
    open_three.say(words)
    assert names(open_three) == [one for one in OPEN if one not in closed]


def test_later_keeps_its_length_through_the_question(open_three: Talk) -> None:
    open_three.say("later 3h")
    assert open_three.press("call the printer").startswith("Later: I say it again at 14:05")


def test_skip_through_the_question_skips_and_the_lot_s_history_says_so(open_three: Talk) -> None:
    open_three.say("skip")
    assert open_three.press("vents, tray 4") == "Skipped: vents, tray 4."
    assert open_three.lot("26-002").trays == ("4",)
    assert "imke: skipped: vents, tray 4" in open_three.say("what did we do with lot 2")
    open_three.say("undo")
    assert "skipped" not in open_three.say("what did we do with lot 2")


def test_the_question_gives_way_to_a_note_and_what_was_asked_before_stays_open(open_three: Talk) -> None:
    assert "What does the jug's label say" in open_three.say("mixed bleach 1:9")
    open_three.say("done")
    assert open_three.say("6 percent").startswith('Kept as a note: "the jug says 6 %"')
    assert names(open_three) == OPEN


def test_each_member_answers_the_question_that_they_raised(open_three: Talk) -> None:
    open_three.say("done", by="osei")
    open_three.say("1", by="imke")
    assert names(open_three) == OPEN
    open_three.wait(minutes=1)
    open_three.say("the printer", by="osei")
    assert "call the printer" not in names(open_three)
