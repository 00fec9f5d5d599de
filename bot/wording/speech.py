"""How answers become one message with its buttons."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from typing import assert_never
from zoneinfo import ZoneInfo

from bot.drawing import picture_of
from bot.wording import told
from bot.wording.asks import ask
from bot.wording.figures import figures_told
from bot.wording.receipts import confirmed, corrected, noted, undone
from bot.wording.refusals import greeting, refused
from bot.wording.reminders import due_told, short_name_of
from bot.wording.told_counts import count_told, grew_told, there_told, went_told
from bot.wording.told_of_the_past import history_told, most_told, undone_told
from core.answers import (
    Answer,
    Asked,
    BatchTold,
    Choice,
    Confirmed,
    Corrected,
    CountTold,
    DueTold,
    FiguresTold,
    Greeting,
    GrewTold,
    HistoryTold,
    HowTold,
    ListTold,
    LotTold,
    MixTold,
    MostTold,
    Noted,
    OpenTold,
    Refused,
    Safety,
    ShiftsTold,
    ThereTold,
    Undone,
    UndoneTold,
    WentTold,
    WhereTold,
    WhoTold,
)  # fmt: skip
from core.conversation import Said, Say
from core.entries import Entry
from core.notes import say_back
from core.treatments.cautions import safety_text
from core.vocabulary.plant_writing import written

_LABELS = {
    "undo": "Undo",
    "undo_back": "Bring it back",
    "were_sold": "Sold",
    "were_lost": "Lost",
    "still_here": "They are still here",
    "yes": "Yes",
    "no": "No",
    "the_same": "The same",
    "again": "Again",
    "more": "More",
    "new_lot": "New lot",
    "the_tray": "The tray",
    "the_trays": "The trays",
    "whole_lot": "The whole lot",
    "a_part": "A part",
    "rooted": "Rooted",
    "unrooted": "Not rooted",
    "potted": "Potted",
    "mixed": "Mixed, not counted",
    "seedlings": "Seedlings",
    "recount": "Recount",
    "instead": "Instead",
    "both": "Both",
    "of_its_own": "Of its own",
    "done": "Done",
    "later": "Later",
    "skip": "Skip",
    "picture": "Picture",
    "table": "Table",
    "air_over": "It is over",
    "air_begun": "Just begun",
}
LONGEST_MESSAGE = 4096


def _offered(answer: Answer, *, pictures: bool) -> list[Choice]:
    """The buttons of an answer, without that of a picture for a channel that shows none."""
    return [one for one in getattr(answer, "choices", ()) if pictures or one.label != "picture"]


def say_in(zone: ZoneInfo, *, pictures: bool = False) -> Say:
    """What puts answers into words for a crew in `zone`; with `pictures` for a channel that can show them."""

    def say(answers: tuple[Answer, ...], now: datetime) -> Said:
        texts = [text for text in (_words(answer, now, zone) for answer in answers) if text]
        choices: list[Choice] = []
        for answer in answers:
            offered = (replace(one, label=written(label_of(one))) for one in _offered(answer, pictures=pictures))
            # Of two answers to one message each would offer the same Undo.
            choices.extend(one for one in offered if one not in choices)
        text = written("\n".join(texts))
        shown = text if len(text) <= LONGEST_MESSAGE else text[: LONGEST_MESSAGE - 2] + " …"
        return Said(text=shown, choices=tuple(choices), document=picture_of(answers, now) if pictures else None)

    return say


def label_of(choice: Choice) -> str:
    """The label that a button shows."""
    if choice.label == "reading":
        return say_back(replace(Entry.from_keys(choice.action["choose"]), rest=None))[:60]
    if choice.label == "due":
        return short_name_of(choice.action["due"])
    return _LABELS.get(choice.label, choice.label)


def _words(answer: Answer, now: datetime, zone: ZoneInfo) -> str:
    match answer:
        case Noted():
            return noted(answer, now)
        case Asked():
            return ask(answer)
        case Refused():
            return refused(answer)
        case Undone():
            return undone(answer)
        case Corrected():
            return corrected(answer, now)
        case Confirmed():
            until = answer.until.astimezone(zone).replace(tzinfo=None) if answer.until else None
            return confirmed(replace(answer, until=until), now)
        case Safety():
            return safety_text(answer.kind)
        case Greeting():
            return greeting(answer)
        case CountTold():
            return count_told(answer, zone)
        case ThereTold():
            return there_told(answer)
        case WentTold():
            return went_told(answer, now.date())
        case DueTold():
            return due_told(answer, now, zone)
        case WhereTold():
            return told.where_told(answer, zone)
        case HistoryTold():
            return history_told(answer, zone, now.date())
        case LotTold():
            return told.lot_told(answer, now, zone)
        case ListTold():
            return told.list_told(answer)
        case UndoneTold():
            return undone_told(answer, now.date())
        case OpenTold():
            return told.open_told(answer, zone)
        case MixTold():
            return told.mix_told(answer)
        case BatchTold():
            return told.batch_told(answer)
        case HowTold():
            return told.how_told(answer)
        case FiguresTold():
            return figures_told(answer)
        case WhoTold():
            return told.who_told(answer, now.date())
        case GrewTold():
            return grew_told(answer, now.date())
        case MostTold():
            return most_told(answer)
        case ShiftsTold():
            return told.shifts_told(answer, now.date())
        case _:
            assert_never(answer)
