"""Which words apart from each other say one act together: `gave lot 12 water`, `mice got 5`, `lot 9 to shade house`."""

from __future__ import annotations

from typing import Final

from core.notes.pieces import NO_ROLES, Piece
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

_BEFORE_PURPOSES: Final = small_words("acts", "before_purposes")
_DONE_TO: Final = frozenset({"number", "lots", "trays", "fraction"})

_CAUSING: Final = frozenset(
    {
        "got",
        "killed",
        "ate",
        "took",
        "took out",
        "claimed",
        "hit",
        "destroyed",
        "wiped out",
        "cooked",
        "nailed",
        "chewed",
        "dug up",
        "munched",
        "eaten",
        "nibbled",
        "fried",
        "got to",
    }
)
_BECOMING: Final = small_words("split", "becoming")
_OUT_OF: Final = small_words("split", "out_of")


def is_act(piece: Piece) -> bool:
    roles = piece.roles
    return "act" in roles or "shared" in roles


def keep_purposes(pieces: list[Piece]) -> None:
    """`soaked 24 h before sowing`, `washed pots for potting day`: what something was done for was not done with it; its
    words up to the next mark or deed are only kept.
    """
    for place, piece in enumerate(pieces[1:], start=1):
        lead = pieces[place - 1].low
        if not is_act(piece) or not piece.low.split(" ")[0].endswith("ing") or lead not in _BEFORE_PURPOSES:
            continue
        after = pieces[place + 1] if place + 1 < len(pieces) else None
        if lead == "after" and after is not None and (after.kind in _DONE_TO or after.low in ("it", "them", "em")):
            continue
        for kept in pieces[place - 1 :]:
            if kept.kind == "break" or (kept is not piece and is_act(kept)):
                break
            kept.kind, kept.roles = "kept", NO_ROLES


def find_causes(pieces: list[Piece]) -> None:
    """`mice got 5`, `heat killed about 20`: a cause and a verb of harm make a loss."""
    for place, piece in enumerate(pieces[:-1]):
        cause = piece.roles.get("cause")
        if cause is None:
            continue
        verb = pieces[place + 1]
        if verb.low in _CAUSING and verb.kind in ("phrase", "word") and "plant" not in piece.roles:
            says = {"cause": cause}
            verb.roles = {"act": ActWord(act="lose", says=says)}
            piece.roles = {"cause": cause}
            piece.used = True


_KEEPING: Final = frozenset({"keeping", "kept back", "holding back"})
_LET_GO: Final = frozenset(
    {"threw out", "tossed", "tossed out", "threw away", "discarded", "dumped out", "got rid of", "chucked", "ditched"}
)


def _to_place(near: list[Piece]) -> bool:
    """`to the shade house`, `back to the mist bench`: a way and a known place, with nothing but small words between."""
    lows = [piece.low for piece in near]
    place = next((step for step, piece in enumerate(near) if "place_word" in piece.roles), None)
    return (
        place is not None
        and bool({"to", "into", "back to", "over to"} & set(lows[:place]))
        and all("filler" in piece.roles for piece in near[:place])
    )


def _is_sticking(near: list[Piece]) -> bool:
    """`did 30 coyote brush heels`: a count of cuttings by their form."""
    return (
        bool(near)
        and near[0].kind == "number"
        and any("plant" in piece.roles or piece.kind == "word" for piece in near)
        and any(role in piece.roles for piece in near for role in ("cutting", "wood"))
        and not any(is_act(piece) for piece in near)
    )


def _into_solution(near: list[Piece]) -> bool:
    """`clippers into the bleach`: a thing and the solution that it lies in, with nothing but small words between."""
    step = next((step for step, piece in enumerate(near) if "solution" in piece.roles), None)
    return (
        step is not None
        and step > 0
        and near[0].low in ("in", "into", "to", "soaking in", "in to")
        and all("filler" in piece.roles for piece in near[:step])
        and not any(is_act(piece) for piece in near)
    )


def find_loose_acts(pieces: list[Piece]) -> None:
    """Acts that two words apart say together: `gave lot 12 water`, `threw out the fert`, `water: lots 3, 4`."""
    for place, piece in enumerate(pieces):
        near = pieces[place + 1 : place + 6]
        if (
            piece.low == "off"
            and place
            and pieces[place - 1].kind in ("lots", "trays", "number")
            and near
            and near[0].kind == "duration"
            and (place == 1 or pieces[place - 2].kind == "break")
        ):
            piece.roles = {"act": ActWord(act="air")}
            continue
        stop = next((step for step, other in enumerate(near) if other.kind == "break"), len(near))
        near = near[:stop]
        if piece.low in _KEEPING and near and near[0].kind == "number" and any(one.low == "for" for one in near):
            piece.roles = {"act": ActWord(act="reserve")}
            continue
        if (
            piece.low == "did"
            and _is_sticking(near)
            and (place == 0 or pieces[place - 1].kind in ("break", "person", "moment"))
        ):
            piece.roles = {"act": ActWord(act="stick")}
            continue
        if piece.low in ("gave", "give", "got") and piece.kind == "phrase":
            drink = next(
                (
                    other
                    for other in near
                    if other.low
                    in (
                        "water",
                        "a drink",
                        "a mist",
                        "mist",
                        "a soak",
                        "a spritz",
                        "feed",
                        "fert",
                        "fertilizer",
                        "a good soak",
                        "a feed",
                    )
                ),
                None,
            )
            if drink is not None and not any(other.low == "to" for other in near):
                says = {
                    "mist": {"method": "mist"},
                    "a mist": {"method": "mist"},
                    "a spritz": {"method": "mist"},
                    "a soak": {"method": "soak"},
                    "a good soak": {"method": "soak"},
                }.get(drink.low, {})
                fed = drink.low in ("feed", "fert", "fertilizer", "a feed")
                piece.roles = {"act": ActWord(act="tend" if fed else "water", says={"care": "feed"} if fed else says)}
                drink.used = True
                drink.roles = {"filler": True}
        elif (
            piece.kind in ("lots", "trays")
            and len(near) >= 2
            and _to_place(near)
            and not any(is_act(other) for other in near)
            and (place == 0 or pieces[place - 1].kind in ("break", "moment"))
        ):
            target = next(other for other in near if "place_word" in other.roles)
            near[0].roles = {"act": ActWord(act="move", says={"to": target.low})}
            for other in near[: near.index(target) + 1]:
                other.used = True
        elif "thing" in piece.roles and _into_solution(near) and all("filler" in one.roles for one in pieces[:place]):
            step = next(step for step, other in enumerate(near) if "solution" in other.roles)
            near[0].roles = {**near[0].roles, "act": ActWord(act="sanitize")}
            near[0].used = step > 0
        elif (
            piece.low in _LET_GO
            and any("solution" in other.roles or "hormone" in other.roles for other in near)
            and not any(other.kind in ("lots", "trays", "number") or "plant" in other.roles for other in near)
        ):
            piece.roles = {"act": ActWord(act="pour_out")}
        elif (
            "to_do" in piece.roles
            and (place == 0 or pieces[place - 1].kind in ("break", "moment"))
            and place + 1 < len(pieces)
            and pieces[place + 1].low == ":"
        ):
            piece.roles = {"act": ActWord(act=piece.roles["to_do"].act, says=piece.roles["to_do"].says)}


def find_splits(pieces: list[Piece]) -> None:
    """`15 out of lot 8 are now lot 77`, `lot 77 = 15 from lot 8`: some of a lot that are another now are split off."""
    for place, piece in enumerate(pieces):
        heads = _opens_statement(pieces, place)
        after_new = _after_new_lot(pieces, place)
        if piece.kind != "number" or not (heads or after_new):
            continue
        origin, out_of = _next_lot(pieces, place + 1, _OUT_OF)
        if origin is None or not out_of:
            continue
        if after_new:
            out_of[0].roles = {"act": ActWord(act="split")}
            continue
        new, becoming = _next_lot(pieces, origin + 1, _BECOMING)
        if new is not None and becoming:
            becoming[0].kind, becoming[0].roles = "phrase", {"act": ActWord(act="split")}


def _opens_statement(pieces: list[Piece], place: int) -> bool:
    """Whether nothing but a day or a person stands before a place in its statement."""
    while place and pieces[place - 1].kind in ("moment", "person"):
        place -= 1
    return place == 0 or pieces[place - 1].kind == "break"


def _after_new_lot(pieces: list[Piece], place: int) -> bool:
    """Whether a lot and what makes it of something stand before a number, at the head of a statement."""
    at = place - 1
    while at >= 0 and pieces[at].low in _BECOMING:
        at -= 1
    return 0 <= at < place - 1 and pieces[at].kind == "lots" and _opens_statement(pieces, at)


def _next_lot(pieces: list[Piece], at: int, before: frozenset[str]) -> tuple[int | None, list[Piece]]:
    """The lot that follows with nothing but fillers and some words before it, and those words."""
    said: list[Piece] = []
    for step in range(at, len(pieces)):
        piece = pieces[step]
        if piece.kind == "lots":
            return (step if len(piece.value) == 1 else None), said
        if piece.low in before:
            said.append(piece)
        elif "filler" not in piece.roles:
            break
    return None, said
