"""One turn of talk: a message in, an answer out; which question is open."""

from core.conversation.messages import Message, Said, Say, Turn
from core.conversation.turn import take_turn

__all__ = ["Message", "Said", "Say", "Turn", "take_turn"]
