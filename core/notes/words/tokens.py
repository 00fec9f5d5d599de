"""What are the words, numbers and marks of a note, each with its place in the text?

Rules
1. Nothing is lost: every character of the note belongs to a token or is a blank or an unprintable mark.
2. Spans refer to the note as typed; letters are compared in lower case with curly quotes and dashes made plain, one
   for one.
3. A letter o inside a number is a zero (`3o`), a number of more than nine digits is only a word.
"""

from __future__ import annotations

import re
from typing import Any, Final

from core.vocabulary.loading import read_toml, small_words

_PLAIN: Final = str.maketrans(
    {
        **dict.fromkeys("‘’‛′ʼ`´", "'"),
        **dict.fromkeys("“”„‟″", '"'),
        **dict.fromkeys("‐‑‒–—―−﹣－", "-"),
        **dict.fromkeys("\u00a0\u2007\u2009\u200a\u202f\u3000\t\v\f", " "),
        **dict.fromkeys("\u200b\u200c\u200d\u200e\u200f\u202a\u202b\u202c\u202d\u202e", " "),
        **dict.fromkeys("\u2066\u2067\u2068\u2069\ufeff", " "),
        **{chr(0xFF01 + step): chr(0x21 + step) for step in range(94) if step not in (0xC,)},
        **dict.fromkeys("\r\u2028\u2029\x85", "\n"),
        "，": ",", "。": ".", "⁄": "/", "∕": "/", "º": "°", "˚": "°",
    }
)  # fmt: skip
VULGAR: Final = {"½": 0.5, "¼": 0.25, "¾": 0.75, "⅓": 1 / 3, "⅔": 2 / 3, "⅛": 0.125, "⅜": 0.375, "⅝": 0.625, "⅞": 0.875}
_MOST_DIGITS: Final = 9
_DOZENS: Final = frozenset(read_toml("measures.toml")["dozen"]["12"])
_LETTERED: Final = small_words("places", "lettered")

_FIGURES: Final = {slip: word for word, slips in read_toml("slips.toml")["figures"].items() for slip in slips}
"""Words that are texted with a figure in them, and what is meant."""

_AS_SEVERAL: Final = {
    word: said.split(" ") for said, found in read_toml("slips.toml")["as_several"].items() for word in found
}
"""Words that are said for several, and those."""

_TOKEN: Final = re.compile(
    r"""
    (?P<plain>[a-z]{2,}(?=[ ,.\n]|\Z))
  | (?P<line>\n[\n ]*)
  | (?P<figures>(?<![^\W_])(?=[24nlhsae])(?:FIGURES)(?![^\W_]))
  | (?P<quote>(?<![\w'])'(?=[^\W\d_])[^'\n]{1,40}'(?![^\W\d_]) | (?<![\w"])"(?=[^\W\d_])[^"\n]{1,40}"(?!\w))
  | (?P<iso>\d{4}-\d{2}-\d{2}(?!\d))
  | (?P<slashes>(?<![tl])\d{1,2}/\d{1,2}/(?:\d{4}|\d{2})(?!\d))
  | (?P<lot>\d{2}-\d{3}(?!\d|/(?!\d{3}(?!\d))|-(?!\d{3}(?![\d-]))\d))
  | (?P<colon>\d{1,4}(?:\.\d+)?:\d{1,4}(?![\d/]|\.\d)|\d{1,4}(?:\.\d+)?:\d{1,4}\.\d{1,2}(?![\d.:/]))
  | (?P<fraction>(?<![tl])\d{1,9}\ ?/\ ?\d{1,9}(?![\d/]))
  | (?P<number>\d{1,3}(?:,\d{3})+(?![\d,])
      | (?<![\d,])\d{1,2},\d{1,2}(?=\ *(?:%|(?:g|kg|ml|l|oz|lb)\b))
      | \d+(?:\.\d+)?[½¼¾⅓⅔⅛⅜⅝⅞]? | (?<!c)\.\d+ | [½¼¾⅓⅔⅛⅜⅝⅞])
  | (?P<word>(?<![^\W_])m\d{1,3}(?![^\W_]) | (?<![^\W_])[a-km-su-wyz]\d{1,3}(?![^\W_]|:)
      | w/o\b | w/ | b/c\b | [^\W\d_]+(?:'[^\W\d_]+)* | '[a-z]{1,3}\b)
  | (?P<mark>->|[:;]-?[)(](?=\s|$)|[^\s])
    """.replace("FIGURES", "|".join(_FIGURES)),
    re.VERBOSE,
)
_COMMA: Final = re.compile(r"\d{1,2},\d{1,2}")
"""`0,5 g`: a number written with a comma for the point."""
_SLIPS: Final = re.compile(r"[loO\d](?:(?<=\d)[loO]|(?<=[loO])\d)")
"""A letter right beside a digit that may stand for one."""
_EL: Final = re.compile(r"l(?=\d)(?:(?<=: l)(?=\d(?![\d:]| +\d))|(?<=\dl))")
_HOUR: Final = re.compile(r"(?:1[0-2]|[1-9])(?:[0-5]\d)?")
_ASIDES: Final = read_toml("asides.toml")
_AFTER_HOURS: Final = frozenset(said.split(" ")[0] for name in ("closes", "remarks") for said in _ASIDES[name])
_HOUR_DIGITS: Final = 2
_BEFORE_HOURS: Final = frozenset(
    (*(day for days in read_toml("measures.toml")["weekday"].values() for day in days), "me", "us", "at", "tmw", "tmrw")
) | {"tomorrow", "today", "2day"}
"""After these an hour may stand before other words (`remind me fri 9a mist t3`)."""
_DAYS: Final = read_toml("measures.toml")["day"]
BEFORE_LOTS: Final = frozenset(said.split(" ")[-1] for said in (*_ASIDES["opens"], *_DAYS["0"], *_DAYS["-1"]))
"""After these what was done to a lot begins, as at the head of a note (`fyi no14 31 rtd`)."""
_HALVES_OF_DAY: Final = frozenset({"a", "p"})
_IN_LISTS: Final = frozenset({",", "and", "&", "+", "-", "/", "to", "thru", "into", "as", "from", "in", "on", "of"})
_OH: Final = re.compile(r"[\do](?<![^\W_].)(?:(?<=o)\d|(?<=\d)(?!\d+o\d\d)\d*o)[\do]*(?![^\W_])")


class Token:
    """A word, number or mark: its kind, its words in lower case, its value, its span, and whether it touches
    the one before.
    """

    __slots__ = ("end", "glued", "kind", "low", "start", "value")

    def __init__(self, kind: str, low: str, value: Any, start: int, end: int, glued: bool) -> None:
        self.kind = kind
        self.low = low
        self.value = value
        self.start = start
        self.end = end
        self.glued = glued

    def __repr__(self) -> str:
        return f"{self.kind}:{self.low}"


def _is_plain(text: str) -> bool:
    """Whether nothing is to be made plain: most notes of one line."""
    return text.isascii() and text.isprintable() and "`" not in text


def lower_plainly(text: str) -> str:
    """The text in lower case with plain quotes, dashes and blanks, of the same length as `text`."""
    plain = text if _is_plain(text) else text.translate(_PLAIN)
    slips = _SLIPS.search(plain) is not None
    if slips:
        plain = _EL.sub("1", plain)
    low = plain.lower()
    if len(low) != len(plain):
        low = "".join(mark.lower() if len(mark.lower()) == 1 else mark for mark in plain)
    if slips:
        low = _OH.sub(lambda found: found[0].replace("o", "0"), low)
    return low


def split_note(text: str) -> list[Token]:
    """The tokens of a note in order."""
    low = lower_plainly(text)
    tokens: list[Token] = []
    before = -1
    for found in _TOKEN.finditer(low):
        kind = found.lastgroup or "mark"
        start, end = found.span()
        words = found[0]
        value: Any = None
        if kind == "plain" and words not in _AS_SEVERAL:
            tokens.append(Token("word", words, None, start, end, start == before))
            before = end
            continue
        if words == "." and _shortens_about(tokens, low, start, end):
            tokens[-1].low = "about"
            continue
        if words == "." and _shortens_title(tokens, low, start, end):
            continue
        if words in _AS_SEVERAL:
            tokens.extend(_several_for(words, start, end, glued=start == before))
            before = end
            continue
        if kind == "number":
            kind, value = _read_number(words)
        elif kind == "figures":
            kind, words = "word", _FIGURES[words]
        elif kind == "fraction":
            above, below = words.split("/")
            value = (int(above), int(below))
            words = f"{value[0]}/{value[1]}"
        elif kind == "colon":
            value = tuple(float(part) if "." in part else int(part) for part in words.split(":"))
        tokens.append(Token(kind, words, value, start, end, start == before))
        before = end
    _write_out(tokens)
    return tokens


def _several_for(word: str, start: int, end: int, *, glued: bool) -> list[Token]:
    """The words that one word is said for (`outta`): its letters belong to the first."""
    first, *others = _AS_SEVERAL[word]
    after = (Token("word", one, None, end, end, False) for one in others)
    return [Token("word", first, None, start, end, glued), *after]


def _shortens_about(tokens: list[Token], low: str, start: int, end: int) -> bool:
    """The point of `c.20`."""
    return bool(tokens) and tokens[-1].low == "c" and tokens[-1].end == start and low[end : end + 1].isdigit()


_SHORT_TITLES: Final = small_words("people", "short_titles")
_BEFORE_TITLES: Final = small_words("people", "before_titles")
_STREETS: Final = frozenset({"dr"})


def _shortens_title(tokens: list[Token], low: str, start: int, end: int) -> bool:
    """The point of `for mrs. dunn`; not of `moved to 5 oak dr. misted tray 4`."""
    if not tokens or tokens[-1].low not in _SHORT_TITLES or tokens[-1].end != start:
        return False
    if not low[end : end + 4].lstrip(" ")[:1].isalpha():
        return False
    before = tokens[-2] if len(tokens) > 1 else None
    return tokens[-1].low not in _STREETS or before is None or before.kind == "line" or before.low in _BEFORE_TITLES


_UN: Final = frozenset({"un", "non"})
_LACKED: Final = small_words("denied", "lacked")
_SHORT: Final = frozenset({"w/", "w/o", *_UN, "n", "o", "1/2", "form", "an", "#", "no", "=", *_HALVES_OF_DAY})
"""What may be written out: a glance at each token tells that most are not."""


def _write_out(tokens: list[Token]) -> None:
    """Reads `w/` as "with", `n` between two words and `an tray 6` as "and", `7a` as an hour, `20o72` as 20 of 72,
    `1/2 dozen` as half, in place; `tray n` stays a tray.
    """
    for at, token in enumerate(tokens):
        if token.low not in _SHORT:
            continue
        if token.low == "w/":
            token.low = "with"
        elif token.low == "w/o" and at + 1 < len(tokens) and tokens[at + 1].low in _LACKED:
            token.low = "without"
        elif token.low in _UN:
            _join_un(tokens, at)
        elif token.low == "n" and 0 < at < len(tokens) - 1 and tokens[at - 1].low not in _LETTERED | {"/"}:
            token.low = "and"
        elif token.low in _HALVES_OF_DAY and _is_hour(tokens, at):
            token.low += "m"
            _part_minutes(tokens[at - 1])
        elif token.low == "o" and token.glued and at and at + 1 < len(tokens) and tokens[at - 1].kind == "number":
            token.low = "of"
        elif token.low == "1/2" and _is_dozen(tokens, at):
            token.kind, token.low, token.value = "word", "half", None
        elif token.low == "form" and at + 1 < len(tokens) and tokens[at + 1].low in _LETTERED:
            token.low = "from"
        elif token.low == "an" and at + 1 < len(tokens) and tokens[at + 1].low in _LETTERED:
            # No plant, act or thing begins so: "an tray 6" has lost a letter.
            token.low = "and"
        elif token.low in ("#", "no", "=") and at + 1 < len(tokens) and tokens[at + 1].glued:
            _name_numbered(tokens, at)


def _name_numbered(tokens: list[Token], at: int) -> None:
    """`#s 14,15` names lots and `no14 31 rtd` a lot, `t3=misted` heads what was done to a tray, in place."""
    token, after = tokens[at : at + 2]
    opens = at == 0 or tokens[at - 1].kind in ("line", "mark") or tokens[at - 1].low in BEFORE_LOTS
    if token.low == "#" and after.low == "s" and [one.kind for one in tokens[at + 2 : at + 3]] == ["number"]:
        token.kind, token.low = "word", "lots"
        del tokens[at + 1]
    elif token.low == "no" and opens and len(after.low) > 1 and after.low.isdigit():
        token.low = "lot"
    elif token.low == "=" and at and after.kind == "word" and tokens[at - 1].kind == "number" and tokens[at - 1].glued:
        token.low = ":"


def _join_un(tokens: list[Token], at: int) -> None:
    """`un rooted`, `un-rooted`, `non-rooted` as the one word that they are, in place."""
    hyphen = at + 1 < len(tokens) and tokens[at + 1].low == "-" and tokens[at + 1].glued
    end = at + 1 + hyphen
    if end < len(tokens) and tokens[end].low.endswith("ed") and tokens[end].glued == hyphen:
        tokens[at].low, tokens[at].end = f"un{tokens[end].low}", tokens[end].end
        del tokens[at + 1 : end + 1]


def _is_hour(tokens: list[Token], at: int) -> bool:
    """The a of `misted lot 9 7a`, `fed 630a`: "am" after an hour, where no tray is named so."""
    if not at or not tokens[at].glued or tokens[at - 1].kind != "number":
        return False
    after = tokens[at + 1].low if at + 1 < len(tokens) else ""
    ends = after in _AFTER_HOURS or not (after.isalnum() or after in ("(", "/"))
    opens = at == 1 or tokens[at - 2].kind == "line"
    before = tokens[at - 2].low if at > 1 else ""
    opens = opens or before in _BEFORE_HOURS
    named = before in _LETTERED or before in _IN_LISTS or (len(before) == 1 and before.isalpha())
    return (ends or opens) and not named and _HOUR.fullmatch(tokens[at - 1].low) is not None


def _part_minutes(hour: Token) -> None:
    """The 630 of `630a` as 6:30, in place."""
    if len(hour.low) > _HOUR_DIGITS:
        hour.kind, hour.value = "colon", (int(hour.low[:-2]), int(hour.low[-2:]))
        hour.low = f"{hour.low[:-2]}:{hour.low[-2:]}"


def _is_dozen(tokens: list[Token], at: int) -> bool:
    """`1/2 dozen`, `1/2 a dozen`; not `2 1/2 dozen`."""
    after = [token.low for token in tokens[at + 1 : at + 3]]
    dozens = after[:1] if after[:1] != ["a"] else after[1:]
    return bool(dozens) and dozens[0] in _DOZENS and (at == 0 or tokens[at - 1].kind != "number")


def _read_number(words: str) -> tuple[str, Any]:
    if len(words) > _MOST_DIGITS and len(words.replace(",", "").split(".")[0]) > _MOST_DIGITS:
        return "word", None
    part = VULGAR.get(words[-1])
    if part is not None:
        return "number", (float(words[:-1]) if len(words) > 1 else 0) + part
    plain = words.replace(",", "." if _COMMA.fullmatch(words) else "")
    return ("number", float(plain)) if "." in plain else ("number", int(plain))
