"""How did a sending come out, and what follows? One value for each way, and a table of what is to be done next.

Rules
1. A message that may have arrived (`Unknown`) is not one that surely did not (`NotSent`): only the first is repeated
   with a word that it may be a repeat.
2. An answer of Telegram's "no" (`Refused`) is never tried again; a chat that cannot be reached is parked.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType


@dataclass(frozen=True, slots=True, kw_only=True)
class Sent:
    """It arrived, under this id of the channel's."""

    message_id: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Wait:
    """It was not taken; the channel says how long to wait."""

    seconds: float


@dataclass(frozen=True, slots=True, kw_only=True)
class NotSent:
    """It surely never left: no connection, or no answer to a question that changes nothing."""

    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Unknown:
    """It may have arrived: the answer was lost, late or broken."""

    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Refused:
    """It can never be sent as it is."""

    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Unreachable:
    """Nothing can be sent to this chat until somebody writes there."""

    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Moved:
    """The chat has another name now."""

    chat: str


Outcome = Sent | Wait | NotSent | Unknown | Refused | Unreachable | Moved


@dataclass(frozen=True, slots=True, kw_only=True)
class Follow:
    """What follows an outcome: the state the message is left in, and after how many seconds each next try comes.

    With no `tries_after` it is not tried again. Where the tries are used up, the last pause repeats if `for_ever`,
    else the message stays in its state.
    """

    state: str
    tries_after: tuple[float, ...] = ()
    for_ever: bool = False


FOLLOWS: Mapping[type, Follow] = MappingProxyType(
    {
        Sent: Follow(state="sent"),
        Wait: Follow(state="waiting", tries_after=(0,), for_ever=True),  # and the seconds that were asked for
        NotSent: Follow(state="waiting", tries_after=(1, 2, 5, 15, 30, 60), for_ever=True),
        # A receipt must come, but not a hundred times: the pauses grow, and after about two hours it is left.
        Unknown: Follow(state="unknown", tries_after=(2, 10, 30, 120, 600, 1800, 3600)),
        Refused: Follow(state="refused"),
        Unreachable: Follow(state="unreachable"),
        Moved: Follow(state="waiting", tries_after=(0,), for_ever=True),
    }
)


def pause_before(outcome: Outcome, tried: int) -> float | None:
    """Seconds until the next try after `tried` outcomes of this kind (1 for the first); None where there is none."""
    follow = FOLLOWS[type(outcome)]
    asked = outcome.seconds if isinstance(outcome, Wait) else 0.0
    if not follow.tries_after:
        return None
    if tried <= len(follow.tries_after):
        return asked + follow.tries_after[tried - 1]
    return asked + follow.tries_after[-1] if follow.for_ever else None
