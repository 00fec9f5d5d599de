"""What is said where nothing was recorded: why, and what to text instead."""

from __future__ import annotations

from datetime import date
from typing import Any

from bot.wording.delivery import COULD_NOT_WORK
from bot.wording.figures import sum_refused
from bot.wording.plain import day_of, listed
from core.answers import Greeting, Refused

_HELLO = 'Hello. Text what you did, like "misted tray 2", or ask "what\'s due".'
_HELP = (
    "Text it as you would tell a colleague:\n"
    '"stuck 72 coyote brush tips, 0.3% iba powder, perlite, tray 2"\n'
    '"lot 1 31/72 rooted, lost 4 to rot" · "aired tray 2 20 min" · "lot 2 cold strat 90 days"\n'
    'Ask: "what\'s due", "how many of lot 1 are rooted?", "what\'s in tray 2", "what is open now?"\n'
    'Wrong? "no wait 27", "undo", or edit your message.'
)


_NOTHING_OPEN = "No reminder is open here. If you did something, text what it was."
_NOTHING_ASKED = {
    "yes": "I have asked nothing that is still open. If you did something, text what it was.",
    "no": 'I have asked nothing that is still open. Is something wrong? Text "undo", or what is right.',
}
_NOT_OF_A_REMINDER = {
    "yes": 'I have asked nothing just now. For a reminder, reply to it or text "done"; else text what is right.',
    "no": 'I have asked nothing just now. For a reminder, reply to it; if something is wrong, text "undo" or what is right.',
}
_WAITS_FOR = {
    "lot": "the lot or tray",
    "photo": "the lot",
    "number": "which number is the lot",
    "count": "how many",
    "plant": "the plant",
    "to": "the place",
    "date": "the day",
    "state": "what was seen",
    "source": "where it is from",
}


def greeting(answer: Greeting) -> str:
    """A greeting, thanks, help, or a picture kept."""
    return {
        "hi": _HELLO,
        "help": _HELP,
        "thanks": "Glad to help.",
        "thanks_all": "Well done, all of you.",
        "farewell": "See you at the bench.",
        "photo_of_lot": "Picture kept with the lot of the message you replied to.",
    }.get(answer.want, _HELLO)


def refused(answer: Refused) -> str:
    """Why nothing was recorded, and what to text instead."""
    facts = answer.facts
    match answer.why:
        case "empty":
            return 'There are no words in that. Text what you did, like "misted tray 2".'
        case "broke":
            return COULD_NOT_WORK
        case "seen":
            return "Seen. It stays open until somebody texts it done." if facts["open"] else "Seen."
        case "no_words":
            return "Seen. If something was done, text me what, and where."
        case "unknown_command":
            return f'I know no {facts["command"]}. Plain words do: "help" shows how.'
        case "nothing_changed":
            return "That is what I have already; nothing changed."
        case "no_lot":
            kind = "lot or tray" if facts.get("nor_tray") else "lot"
            return f'I have no {kind} {facts["unknown"]}. "which lots are open" lists them.'
        case "no_open_lots":
            of = (
                f" of {facts['plant']}"
                if facts.get("plant")
                else f" in tray {listed(facts['trays'])}"
                if facts.get("trays")
                else ""
            )
            return f'I have no open lot{of}. "which lots are open" lists them all.'
        case "nothing_to_undo":
            return 'There is nothing of yours here to take back. Reply to the message that was wrong with "undo".'
        case "no_note_that_day":
            return f"I have no note of yours of {day_of(date.fromisoformat(facts['day']))} here."
        case "lot_is_open":
            left = "" if facts["left"] is None else f": {facts['left']} left"
            return f"{facts['lot']} is open{left}."
        case "nothing_reserved":
            of = f" of {listed(facts['lots'])}" if facts["lots"] else ""
            return f"Nothing{of} is reserved{_for(facts)}, so nothing was changed."
        case "reserved_so_already":
            return f"{facts['count']} of {listed(facts['lots'])} are reserved{_for(facts)} already."
        case "which_sale":
            days = listed([day_of(date.fromisoformat(day)) for day in facts["days"]])
            return f'The targets are for {days}. Text which plant moves: "need 40 toyon by" and the day.'
        case "already_undone":
            return "That is taken back already."
        case "nothing_to_amend":
            return "I don't know which note that corrects. Reply to the note, or text it whole again."
        case "not_recorded":
            return f'All right, not recorded: "{facts["said"]}".'
        case "waits":
            missing = _WAITS_FOR.get(facts["kind"], "it")
            return f'All right, it waits: "{facts["said"]}". Text {missing} when you know.'
        case "lapsed":
            told = [f'"{said}" ({day_of(date.fromisoformat(day))})' for said, day in facts["said"].items()]
            return f"Not in the books, as my question got no answer: {listed(told)}. To record it, text it whole again."
        case "lot_taken_back":
            day = day_of(date.fromisoformat(facts["day"]))
            return f"{facts['lot']} was taken back by {facts['by']} on {day}."
        case "lot_keeps_number":
            opened = f"{facts['lot']} was opened by that note and keeps its number."
            return f'{opened} Text "undo" and stick it again under the other one.'
        case "asked_another":
            return f'That question is for {facts["who"]}: "{facts["said"]}". Its button, or a reply to it, answers it too.'
        case "nothing_open":
            if facts.get("reminded"):
                return _NOT_OF_A_REMINDER[facts["answer"]]
            return _NOTHING_ASKED.get(facts.get("answer") or "", _NOTHING_OPEN)
        case "dropped":
            return "All right, nothing more recorded."
        case "old_button":
            return "That button is no longer good. Text it instead."
        case "unclear_question":
            return 'I don\'t know that one. Ask "what\'s due", "how many of lot 1 are rooted?" or "what\'s in tray 2".'
        case "mix_by_label":
            return f"For {facts['solution']} go by the product's label; I work out bleach and hormone dips."
        case "mix_needs_volume":
            return 'For how much? Ask like "how much bleach for 3 gal at 1:9?"'
        case "mix_impossible":
            return f'That cannot be mixed: {facts["hint"]}. Ask like "how much bleach for 3 gal at 1:9?"'
        case "no_how_to":
            topics = f"I can say how these are done: {listed([name.replace('_', ' ') for name in facts['topics']])}."
            return f"Nothing in our table on {facts['plant']}. {topics}" if facts.get("plant") else topics
        case "stranger":
            return "I talk only with the crew I belong to. If you help there, send me the code your lead gave you."
        case "welcome_lead":
            you_lead = f"Welcome, {facts['name']}: you lead {facts['crew']}."
            return f'{you_lead} Add me to the group of your crew, then text what you do. "help" says how.'
        case "welcome":
            return f'Welcome to {facts["crew"]}, {facts["name"]}. Text what you do. "help" says how.'
        case "too_few":
            return str(facts["hint"])
        case why:
            unclear = "I could not make that out. Text it again, a little longer; nothing was recorded."
            return sum_refused(why, facts) or unclear


def _for(facts: dict[str, Any]) -> str:
    return f" for {facts['to']}" if facts["to"] else ""
