"""What was done with a solution, told in other words than those of the deed: `stirred up a quart of alcohol`.

Rules
1. A word of stirring or brewing mixes where a solution follows it, and how much or how strong it is, or that it is new.
2. A solution that goes down a drain, or is tipped or sent away, was poured out.
3. Things that were given, or had, a bath or a wipe of a solution, or went through a flame, were disinfected.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from core.notes.deeds.solutions import names_solution
from core.notes.words.pieces import Piece, is_act
from core.notes.words.runs import Runs
from core.notes.words.said import begin_of_sentence, deed_of, one_piece, pass_over, statements
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

_STIRRING: Final = Runs(small_words("solutions", "stirring"))
_BREWING: Final = Runs(small_words("solutions", "brewing"))
_MAKING: Final = small_words("solutions", "stirring") | small_words("solutions", "brewing")
_NEW: Final = small_words("solutions", "new")
_DRAINS: Final = Runs(small_words("solutions", "drains"))
_DRAINING: Final = Runs(small_words("solutions", "draining"))
_DISPOSING: Final = Runs(small_words("solutions", "disposing"))
_TIPPING: Final = Runs(small_words("solutions", "tipping"))
_AWAY: Final = small_words("solutions", "away")
_POURING: Final = small_words("solutions", "disposing") | small_words("solutions", "tipping")
_BATHS: Final = Runs(small_words("solutions", "baths"))
_WIPES: Final = Runs(small_words("solutions", "wipes"))
_WASHES: Final = small_words("solutions", "baths") | small_words("solutions", "wipes")
_AFTER_BATHS: Final = small_words("solutions", "after_baths")
_GIVING: Final = Runs(small_words("solutions", "giving"))
_HOW: Final = small_words("solutions", "how_given")
_FLAMES: Final = Runs(small_words("solutions", "flames"))
_HELD: Final = small_words("solutions", "held_in_flames")
_LAYING: Final = small_words("solutions", "laying")
_INTO: Final = frozenset({"in", "into", "through", "thru", "with", "w/", "w", "under"})
_ARTICLES: Final = small_words("places", "articles")
_JOINTS: Final = frozenset({"and", "&", "then", "+", "n"})
_VOLUMES: Final = frozenset({"ml", "l", "pt", "qt", "gal"})
_MEASURES: Final = frozenset({"amount", "percent", "ppm", "colon", "parts", "number", "fraction"})


_READY: Final = Runs(small_words("solutions", "ready"))
_NEWLY: Final = small_words("solutions", "newly")
_NOW: Final = frozenset({"now", "again", "at", "too", "also"})
_WASHING: Final = frozenset({"dipped", "wiped", "soaked", "rinsed"})
_PLAIN: Final = {"mix": "mixed", "pour_out": "poured out", "sanitize": "sanitized"}


def _be(act: str, *pieces: Piece) -> None:
    """Makes some words that of a deed, and its plain one, in place."""
    first, *more = pieces
    first.kind, first.low, first.roles, first.used = "phrase", _PLAIN[act], {"act": ActWord(act=act)}, True
    pass_over(*more)


@looks_for(any_of=_MAKING, beside=("@solution", "@hormone_name", "=amount", "batch"))
def mix_stirred(pieces: list[Piece]) -> None:
    """`stirred up a quart of 70% alcohol`, `whipped up 6 l of fertilizer`, `whipped up 6 l`: mixed, in place."""
    for start, end in statements(pieces):
        said = pieces[start:end]
        brewed = _BREWING.first_from(said)
        found = brewed or _STIRRING.first_from(said)
        if found is None or not _only_mixes([*_joined_before(said[: found[0]]), *said[found[1] :]]):
            continue
        after = said[found[1] :]
        if brewed and len(after) == 1 and after[0].kind == "amount":
            if after[0].value[1] in _VOLUMES or _strength_before(pieces, start):
                _be("mix", *said[found[0] : found[1]])
            continue
        solution = next((at for at, piece in enumerate(after) if names_solution(piece)), None)
        if any(not _between(piece) for piece in after[:solution]):
            continue
        if solution is None:
            # "whipped up a new batch".
            pass_over(*(said[found[0] : found[1]] if brewed and any(map(is_act, after)) else ()))
            continue
        measured = any(piece.kind in _MEASURES or piece.low in _NEW for piece in after)
        if any(is_act(piece) for piece in after):
            pass_over(*said[found[0] : found[1]])
        elif brewed or measured:
            _be("mix", *said[found[0] : found[1]])
            pass_over(*(piece for piece in after[solution + 1 :] if piece.low == "together"))


@looks_for(any_of=small_words("solutions", "ready"), beside=("@solution", "@hormone_name"))
def mix_new(pieces: list[Piece]) -> None:
    """`new bleach is ready, 1:9`, `fresh batch of quat's good to go`: mixed, in place; one that is not new may have
    been mixed whenever.
    """
    for start, end in statements(pieces):
        said = pieces[start:end]
        found = _READY.first_from(said)
        if found is None or not any(map(names_solution, said[: found[0]])):
            continue
        new = any(word in _NEWLY for piece in said[: found[0]] for word in piece.low.split(" "))
        before, after = said[: found[0]], said[found[1] :]
        small = all(names_solution(piece) or _between(piece) or piece.kind == "moment" for piece in before)
        if new and small and all(piece.kind in ("moment", *_MEASURES) or piece.low in _NOW for piece in after):
            pass_over(*(piece for piece in before if is_act(piece)))
            _be("mix", *said[found[0] : found[1]])


@looks_for("got", "gotten", beside=("@solution",))
def pass_got(pieces: list[Piece]) -> None:
    """`pruners got dunked in alcohol`: the `got` of what was done to things, in place."""
    for at in range(1, len(pieces) - 1):
        washed = pieces[at + 1].roles.get("shared")
        thing = "thing" in pieces[at - 1].roles and pieces[at].low in ("got", "gotten")
        bathed = any("solution" in piece.roles for piece in pieces[at + 2 :])
        if thing and bathed and washed is not None and washed.rule in _WASHING:
            pass_over(pieces[at])


def _strength_before(pieces: list[Piece], start: int) -> bool:
    """`iba at 1000 ppm, | stirred up 1 cup`: a solution and how strong it is, and no more, right before."""
    before = pieces[begin_of_sentence(pieces, start) : start]
    named = any(map(names_solution, before)) and any(piece.kind in _MEASURES for piece in before)
    small = ("break", "moment")
    return named and all(names_solution(piece) or _between(piece) or piece.kind in small for piece in before)


def _joined_before(said: list[Piece]) -> list[Piece]:
    """What stands before a word of mixing after the last "and": the deed before that is another's."""
    joint = next((at for at in range(len(said) - 1, -1, -1) if said[at].low in _JOINTS), -1)
    return said[joint + 1 :]


def _only_mixes(said: list[Piece]) -> bool:
    """`brewed up a batch of bleach`: whether no other deed is told."""
    deeds = (deed_of(piece) for piece in said if is_act(piece))
    return all(deed is not None and deed.act == "mix" for deed in deeds)


def _between(piece: Piece) -> bool:
    mixes = is_act(piece) and _only_mixes([piece])
    return mixes or piece.kind in _MEASURES or piece.low in _NEW or "filler" in piece.roles


@looks_for(any_of=small_words("solutions", "drains"), beside=("@solution", "@hormone_name"))
def pour_down(pieces: list[Piece]) -> None:
    """`bleach went down the drain`, `poured the old iba down the sink`: poured out, in place."""
    for start, end in reversed(statements(pieces)):
        said = pieces[start:end]
        drain = _DRAINS.first_from(said)
        if drain is None or not any(names_solution(piece) for piece in said[: drain[0]]):
            continue
        sent = _DRAINING.first_from(said)
        others = [piece for at, piece in enumerate(said) if is_act(piece) and not (sent and sent[0] <= at < sent[1])]
        if any((deed := deed_of(piece)) is None or deed.act != "pour_out" for piece in others):
            continue
        pass_over(*said[sent[0] : sent[1]] if sent else ())
        gone = one_piece(said[drain[0] : drain[1]], "phrase")
        if others:
            pass_over(gone)
        else:
            _be("pour_out", gone)
        pieces[start + drain[0] : start + drain[1]] = [gone]


@looks_for(any_of=_POURING, beside=("@solution", "@hormone_name"))
def pour_away(pieces: list[Piece]) -> None:
    """`tipped the bleach away`, `bleach got tipped out`, `disposed of the old quat`: poured out, in place."""
    for start, end in statements(pieces):
        said = pieces[start:end]
        if not any(names_solution(piece) for piece in said) or any("thing" in piece.roles for piece in said):
            continue
        found = _DISPOSING.first_from(said)
        tipped = None if found else _TIPPING.first_from(said)
        away = [piece for piece in said[tipped[1] :] if piece.low in _AWAY] if tipped else []
        passive = tipped is not None and any(names_solution(piece) for piece in said[: tipped[0]])
        if found or away or passive:
            begin, stop = found or tipped or (0, 0)
            _be("pour_out", *said[begin:stop])
            pass_over(*away)


@looks_for(any_of=_WASHES, beside=("@thing",))
def give_baths(pieces: list[Piece]) -> None:
    """`gave the snips a 5 minute quat bath`, `pruners got a wipe with alcohol`: disinfected, in place."""
    for start, end in statements(pieces):
        said = pieces[start:end]
        given = _GIVING.first_from(said)
        bath = _WIPES.first_from(said) or (_bath_in(said) if any(map(names_solution, said)) else None)
        if given is None or bath is None or bath[0] < given[1] or not _only_things(said, given, bath):
            continue
        _be("sanitize", *said[given[0] : given[1]])
        nouns = [piece for piece in said[bath[0] : bath[1]] if not names_solution(piece)]
        pass_over(*nouns, *(piece for piece in said if piece.low in _HOW))


def _bath_in(said: list[Piece]) -> tuple[int, int] | None:
    """Where the `dip`, or the `bleach bath`, stands."""
    named = (at for at, piece in enumerate(said) if names_solution(piece) and piece.low.split(" ")[-1] in _WASHES)
    at = next(named, None)
    return (at, at + 1) if at is not None else _BATHS.first_from(said)


def _only_things(said: list[Piece], given: tuple[int, int], bath: tuple[int, int]) -> bool:
    """Whether things, and neither plants nor anybody, were given it, or had it, and no other thing is named by it
    (`had a scrub brush`).
    """
    before, after = said[: given[0]], said[given[1] : bath[0]]
    if any(is_act(piece) or piece.kind in ("lots", "trays") or "plant" in piece.roles for piece in (*before, *after)):
        return False
    follows = said[bath[1] : bath[1] + 1]
    ends = all(one.kind in ("moment", "duration", "person") or one.low in _AFTER_BATHS for one in follows)
    return ends and any("thing" in piece.roles for piece in (after if said[given[0]].low == "gave" else before))


@looks_for(any_of=small_words("solutions", "flames"), beside=("@thing",))
def hold_in_flames(pieces: list[Piece]) -> None:
    """`ran the snips through the flame`, `passed a knife through a torch`: disinfected, in place."""
    for start, end in statements(pieces):
        said = pieces[start:end]
        flame = _FLAMES.first_from(said)
        if flame is None or not any("thing" in piece.roles for piece in said[: flame[0]]):
            continue
        held = [piece for piece in said[: flame[0]] if piece.low in _HELD]
        if held and not any(is_act(piece) and piece not in held for piece in said):
            _be("sanitize", held[0], *said[flame[0] : flame[1]])
            pass_over(*held[1:])


@looks_for(any_of=_LAYING, beside=("@solution",))
def lay_in(pieces: list[Piece]) -> None:
    """`left the snips in alcohol for 5 minutes`, `sprayed the pruners with bleach`: disinfected, in place."""
    for start, end in statements(pieces):
        said = pieces[start:end]
        at = next((at for at, piece in enumerate(said) if piece.low in _LAYING), None)
        if at is None or any(is_act(piece) for piece in (*said[:at], *said[at + 1 :])):
            continue
        lead = next((place for place in range(at + 1, len(said)) if said[place].low in _INTO), len(said))
        things, bath = said[at + 1 : lead], [piece for piece in said[lead + 1 :] if piece.low not in _ARTICLES]
        only = all(piece.kind == "number" or not piece.roles.keys().isdisjoint(("thing", "filler")) for piece in things)
        named = only and any("thing" in piece.roles for piece in things)
        if named and bath and "solution" in bath[0].roles:
            _be("sanitize", said[at])
            pass_over(said[lead])


@looks_for("bath", "baths", beside=("!sanitize", "~put", "~dipped"))
def pass_baths(pieces: list[Piece]) -> None:
    """`put the trays through a quat bath`: the bath of a solution, in place."""
    for before, piece in pairwise(pieces):
        if piece.low in ("bath", "baths") and "solution" in before.roles:
            pass_over(piece)


TELL_SOLUTIONS: Final = (
    mix_stirred, mix_new, pass_got, pour_down, pour_away, give_baths, hold_in_flames, lay_in, pass_baths,
)  # fmt: skip
"""What was done with solutions, in place; before people are looked for, who stand before such words too."""
