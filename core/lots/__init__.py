"""What a lot is now, folded from its records: counts, stage, cover, place, and what may not happen to it."""

from core.lots.cold import cold_ends, cold_up_to, fold_colds
from core.lots.cover import Session, air_is_over, fold_cover, sessions
from core.lots.fold import fold, fold_books, kin_of
from core.lots.state import Cold, Counted, Cover, Loss, Lot, Outing, Parted, Told

__all__ = [
    "Cold",
    "Counted",
    "Cover",
    "Loss",
    "Lot",
    "Outing",
    "Parted",
    "Session",
    "Told",
    "air_is_over",
    "cold_ends",
    "cold_up_to",
    "fold",
    "fold_books",
    "fold_colds",
    "fold_cover",
    "kin_of",
    "sessions",
]
