"""Is it a rule: a default that is changed (`weaning starts day 12 for salvia`, `hardening takes 14 days for lot 22`).

A rule names a step of the work, and when, how long or how often, and tells nothing that was done. It keeps all its
words but a head such as `rule:`; what it is for stands beside them too. Another statement after a comma is no part of
it (`weaning starts day 9 for sage, the last ones flopped`).
"""

from __future__ import annotations

import re
from typing import Any, Final

from core.notes.acts.slots import joined
from core.notes.days.who import may_be_who
from core.notes.deeds.orders import tells_past
from core.notes.details.drafts import Draft, as_typed
from core.notes.parting.clauses import Clause
from core.notes.words.number_words import WORD_VALUES
from core.notes.words.pieces import COUNTS, SENTENCE_ENDS, SUBJECTS, Piece, is_act
from core.notes.words.steps import looks_for
from core.notes.words.tokens import Token
from core.vocabulary.loading import small_words

_STEP: Final = (
    r"(?:(?:first|next|second|last|every|the|our|default) )*"
    r"(?:root(?:ing)? checks?|fridge (?:checks?|looks?)|pot(?:ting)? ups?|"
    r"check(?:ing)? (?:for |on |the )*(?:root(?:s|ing)?|callus(?:ing)?|germ(?:ination)?)|"
    r"checks?|weaning steps?|weaning|wean|hardening(?: off)?|venting|vents?|airing|misting|mist|watering|"
    r"water|feeding|feed|strat(?:ification)?|cold strat|warm strat|"
    r"soaks?|soaking|hold|potting(?: up)?|tug tests?|tugs?|germination checks?|germ checks?|count|counts|"
    r"pinching|bottom heat|"
    r"domes?|covers?|hormone|bleach|solution|dip|reminders?|quiet hours|digest|heat|fertilizing|uncovering|thinning)"
)
_HEAD: Final = re.compile(
    r"^(?:(?:new |house )?rule\b[ :,-]*|(?:(?:new )?default|policy|new) ?[:,-]+ *)(?=\S)", re.IGNORECASE
)
_HOW_OFTEN: Final = (
    r"(?:(?:\d+ ?x|\d+ times|once|twice|three times) (?:a|per|every|each) (?:day|week)|daily|weekly|"
    r"every (?:other )?(?:\d+ )?(?:hours?|hrs?|h|days?|weeks?|morning|evening|night))"
)
_IN_WORDS: Final = "|".join(sorted(WORD_VALUES))
_SAID_SO: Final = sorted(small_words("rules", "henceforth"), key=len, reverse=True)
_HENCEFORTH: Final = re.compile(rf"\b(?:{'|'.join(_SAID_SO)})\b")
_LASTING: Final = ("from now on", "by default")
_OPENERS: Final = small_words("rules", "openers")
_GOING_ON: Final = small_words("rules", "going_on")
_SETTING: Final = COUNTS | SUBJECTS | {"duration", "times", "temp", "size"}
_STEPS_OF_DAYS: Final = frozenset({"hardening", "hardening off", "harden", "harden off", "weaning", "wean", "airing"})
_INSTEAD: Final = small_words("rules", "instead")
_OF_TIME: Final = small_words("rules", "of_time")
_BEGINNING: Final = frozenset({"starts", "start", "begins", "begin", "ends", "end"})
_STATED: Final = re.compile(rf"^{_STEP} (?:starts?|begins?|ends?|takes?|lasts?|is|are) ")
# These look at the whole sentence, the next ones at it without the lots, trays or plant that the rule is for.
_RULES: Final = re.compile(
    "|".join(
        (
            rf"^{_STEP} (?:starts?|begins?|ends?|takes?|lasts?|runs?|should (?:start|begin|take|last|be)|happens?"
            r"|(?:is|are|stays?|keeps) good for(?! another)) .*"
            r"\b(?:days?|weeks?|wks?|hours?|hrs?|min|mins|minutes|months?|daily|weekly|dawn)\b",
            rf"^{_STEP}:? (?:is |are |on |at |due )*(?:day|days|week|weeks|every|after) \d+",
            rf"^{_STEP} (?:is |are |happens? |gets? done )+{_HOW_OFTEN}",
            rf"^{_STEP} {_HOW_OFTEN}.* (?:from now on|by default)$",
            rf"^[^|]*\b(?:gets?|is|are|to be|should be|will be) [^|]*{_HOW_OFTEN}[^|]* (?:from now on|by default)$",
            rf"^{_STEP} [^|]*{_HOW_OFTEN} from now on$",
            rf"^(?:{_STEP}|harden(?: off)?) [^|]*\b\d+ (?:days?|weeks?|hours?|hrs?)\b[^|]* from now on$",
            r"^[^|]+ by default$",
            rf"^{_STEP} (?:\d+) (?:days?|weeks?|hours?|hrs?) after\b",
            rf"^{_STEP} (?:is |are |on |at |due |after |always )+\d+ (?:days?|weeks?)(?: (?:for|on|with|in) [^|]*)?$",
            rf"^{_STEP} (?:is|are) (?:always )?(?:\d+|{_IN_WORDS}|half an|an|a quarter of an) ?"
            r"(?:hours?|hrs?|h|min|mins|minutes)(?: (?:for|on|with|in) [^|]*)?$",
            r"^(?:we|i|no more (?!domes?\b|lids?\b|covers?\b)) ?[^|]* from now on$",
            r"^(?:rule|(?:the )?(?:new )?(?:rule|default)|from now on|always|house rule|policy)\b[:,]? ?\S+",
            rf"^(?:start|begin|end|stop|do|make|set|change|use|check|keep) (?:the )?{_STEP}? ?.*"
            r"\b(?:by default|from now on|always)\b",
            rf"^(?:start|begin) {_STEP} (?:on |at |after )?(?:day|week) \d+",
            rf"^(?:for )?[a-z' ]+: {_STEP} (?:starts?|begins?|takes?|lasts?|on (?:day|week)|after|every) .*\d",
            rf"^for [a-z' ]+?,? {_STEP} (?:starts?|begins?|takes?|lasts?|on (?:day|week)|after|every|is|day) .*\d",
        )
    )
)
_BARE_RULES: Final = re.compile(
    "|".join(
        (
            rf"^(?:starts?|begins?) {_STEP} (?:(?:on |at |after )?(?:day|week) \d+|(?:at|after) \d+ (?:days?|weeks?)$)",
            rf"^(?:mist|water|feed|check|vent|air|tug) {_HOW_OFTEN}$",
            r"^(?:first |next )?(?:root )?(?:checks?|tugs?|tug tests?|looks?) \d+ (?:days?|weeks?)$",
            rf"^(?:set|change|make) (?:the )?(?:default )?{_STEP}\b[^|]*"
            r"\b(?:to|at|on|every)\b[^|]*\d+(?! ?(?:%|percent|\d))",
            rf"^{_STEP} (?:every|each) (?:other |second |\d+ )?(?:days?|weeks?|months?)$",
            rf"^{_STEP} (?:now |is now |is to |are to |is going to |will |will now )?"
            r"(?:starts?|begins?|ends?|takes?|lasts?|kicks? off|moves?|shifts?|runs?)"
            r" (?:to |from |on |at |after |for )?"
            r"(?:(?:day|week) \d+|\d+ (?:days?|weeks?))$",
            rf"^(?:move|push|bring|shift|have|let) (?:the )?{_STEP} (?:back |forward |out |up |start |begin )*"
            r"(?:to|on|at) (?:day|week) \d+$",
        )
    )
)

_AT_AN_AGE: Final = re.compile(
    r"^(?:first )?(?:wean|harden(?: off)?|pot(?: up)?|feed|pinch|uncover|(?:root )?checks?|tug) "
    r"(?:at \d+ (?:days?|weeks?)|(?:from|starting|beginning|on|at)(?: on| at)? (?:day|week) \d+(?: on| onwards?)?)$"
    r"|^(?:(?:gets?|to be|should be) (?:weaned|hardened(?: off)?|potted(?: up)?|fed|pinched|uncovered)"
    r"|weaning|hardening(?: off)?) (?:from|starting|beginning)(?: on| at)? (?:day|week) \d+(?: on| onwards?)?$"
)
"""`wean sage at 10 days`, `sage gets weaned from day 10`: what is done to a kind of plant at an age."""


@looks_for(
    "=duration", "day", "days", "week", "weeks", "hours", "min", "mins", "minutes", "months", "daily", "weekly", "dawn",
    "every", "each", "once", "twice", "times", "after", "default", "now", "rule", "always", "policy", "set",
    "change", "make", "x", any_of=small_words("rules", "henceforth"),
)  # fmt: skip
def rule_of(text: str, tokens: list[Token], pieces: list[Piece]) -> Draft | None:
    """The rule that a sentence sets; None where it sets none."""
    for place in (place for place, piece in enumerate(pieces) if piece.kind == "break" and piece.low == ","):
        told = pieces[place + 1 :]
        if (another := _opens_another(told)) or _goes_on(told):
            ruled = _whole_rule(text, tokens, pieces[:place])
            if ruled is not None and another:
                ruled.extra["rest"] = as_typed(text, tokens, told[0].first, _last_word(told))
            elif ruled is not None:
                ruled.extra.update(_subjects(tokens, pieces)[0], what=_what(text, tokens, pieces))
            if ruled is not None:
                return ruled
    return _whole_rule(text, tokens, pieces)


def states_rule(text: str, tokens: list[Token], pieces: list[Piece]) -> bool:
    """Whether words open with a step and a verb, and set a rule by themselves (`hardening takes 10 days`)."""
    told = pieces[1:] if pieces and pieces[0].low in ("and", "&") else pieces
    return _STATED.match(_words(tokens, told)) is not None and _whole_rule(text, tokens, told) is not None


def _opens_another(told: list[Piece]) -> bool:
    """Whether words after a comma open a statement that sets nothing (`the last batch flopped`)."""
    if len(told) < 2 or not (told[0].low.split(" ")[0] in _OPENERS or may_be_who(told[0])):
        return False
    return not any(piece.kind in _SETTING or "plant" in piece.roles for piece in told)


def _goes_on(told: list[Piece]) -> bool:
    """Whether words after a comma tell more of a rule: `not on day 12`, `then 40`."""
    return bool(told) and told[0].low in _GOING_ON and not any(map(is_act, told))


def _last_word(pieces: list[Piece]) -> int:
    return next(piece.last for piece in reversed(pieces) if piece.kind not in ("break", "mark", "dash"))


def _whole_rule(text: str, tokens: list[Token], pieces: list[Piece]) -> Draft | None:
    """The rule that all of some words set; None where they set none."""
    solid = [piece for piece in pieces if piece.kind != "mark"]
    if not 3 <= len(solid) <= 24 or (solid[0].low == "always" and tells_past(solid)):
        return None
    values, gone = _subjects(tokens, pieces)
    end = _end_of_new(pieces)
    kept = [piece for place, piece in enumerate(pieces[:end]) if place not in gone]
    whole = _HENCEFORTH.sub("from now on", _words(tokens, pieces[:end]))
    bare = _HENCEFORTH.sub("from now on", _words(tokens, kept)).lstrip(": ").removesuffix(" from now on")
    if _tells_how_far(pieces, values) or _tells_count(pieces) or (_sets_vents(solid) and not _lasts(whole)):
        return None
    headed = pieces[0].low == "for" and 0 in gone and _RULES.match(bare) is not None
    aged = "plant" in values and _AT_AN_AGE.match(bare) is not None
    if not (headed or aged or _RULES.match(whole) or _BARE_RULES.match(bare)):
        return None
    what = _what(text, tokens, pieces)
    if not what:
        return None
    draft = Draft("rule", None, [Clause("", [])])
    draft.extra = {**values, "what": what}
    return draft


def _end_of_new(pieces: list[Piece]) -> int:
    """Where what is to be ends, before what it was so far (`check sages every 5 days | instead of 7`)."""
    at = next((place for place, piece in enumerate(pieces) if piece.low in _INSTEAD), len(pieces))
    was = pieces[at + 1 :]
    return at if was and all(piece.kind in _SETTING or piece.low in _OF_TIME for piece in was) else len(pieces)


def _tells_count(pieces: list[Piece]) -> bool:
    """`check at 3 weeks in lot 9: 12/40 rooted`: what was found, no default."""
    states = any("act" in piece.roles and "state" in piece.roles["act"].says for piece in pieces)
    return states and any(piece.kind == "fraction" for piece in pieces)


def _tells_how_far(pieces: list[Piece], values: dict[str, Any]) -> bool:
    """`hardening day 2 for lots 30-33, 3 hrs in the sun`: the day that a step has come to, not the day it starts."""
    said = [piece.low for piece in pieces[:4]]
    if not said or said[0] not in _STEPS_OF_DAYS or "day" not in said[1:3] or said[1] in _BEGINNING:
        return False
    bare = sum(piece.kind == "number" for piece in pieces[2:]) > (said[1] == "day")
    hardens = said[0].startswith("harden") and ("lots" in values or "trays" in values or bare)
    return hardens or any(piece.kind == "duration" and not piece.value[0].days for piece in pieces)


def _sets_vents(pieces: list[Piece]) -> bool:
    """`set vents on trays 21-23 to 3/4`: how far they stand open now, no default."""
    far = any(
        piece.kind in ("fraction", "percent") or not piece.roles.keys().isdisjoint(("vent_open", "fraction"))
        for piece in pieces
    )
    return far and any("vent_noun" in piece.roles for piece in pieces[:3])


def _lasts(whole: str) -> bool:
    """`vents half from now on`, `default vents for trays 1-4 is half`: so it is to be, and not only now."""
    return whole.endswith(_LASTING) or whole.startswith("default ")


def _words(tokens: list[Token], pieces: list[Piece]) -> str:
    """The words in lower case, `|` where a sentence ends."""
    return " ".join(
        "|" if piece.low in SENTENCE_ENDS else joined(tokens, piece.first, piece.last)
        for piece in pieces
        if piece.kind != "mark" and (piece.kind != "break" or piece.low == ":" or piece.low in SENTENCE_ENDS)
    ).replace(" :", ":")


def _subjects(tokens: list[Token], pieces: list[Piece]) -> tuple[dict[str, Any], set[int]]:
    """What the rule is for, and which pieces say so."""
    values: dict[str, Any] = {}
    gone: set[int] = set()
    for place, piece in enumerate(pieces):
        name = None
        if piece.kind in ("lots", "trays"):
            name = piece.kind
            values[name] = tuple(dict.fromkeys((*values.get(name, ()), *piece.value)))
        elif "plant" in piece.roles and "plant" not in values and piece.low not in ("mint",):
            name = "plant"
            values["plant"] = joined(tokens, piece.first, piece.last)
            if place + 1 < len(pieces) and pieces[place + 1].kind == "quote":
                values["plant"] += f" '{pieces[place + 1].value}'"
                gone.add(place + 1)
        if name is not None:
            gone.add(place)
            if place and pieces[place - 1].low in ("for", "on", "in", "with", "of"):
                gone.add(place - 1)
    return values, gone


def _what(text: str, tokens: list[Token], pieces: list[Piece]) -> str:
    """The words of the rule as typed, without its head."""
    while pieces and pieces[-1].kind in ("break", "mark", "dash"):
        pieces = pieces[:-1]
    return _HEAD.sub("", as_typed(text, tokens, pieces[0].first, pieces[-1].last)) if pieces else ""
