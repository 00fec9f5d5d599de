"""What a lot is now, folded from its records: counts, stage, cover, place, and what may not happen to it."""

from core.lots.balance import Balance, books_line
from core.lots.batches import Batch, Soak, fold_batches, fold_soaks, soak_is_over, still_good
from core.lots.cold import cold_ends, cold_up_to, fold_colds, tells_of_cold_again, tells_of_cold_trouble
from core.lots.cover import Session, air_is_over, fold_cover, sessions
from core.lots.fold import fold, fold_books, kin_of
from core.lots.objections import Objection, for_sale_of, may_not, tells_all_lost
from core.lots.openings import open_states
from core.lots.parts_moved import There, there
from core.lots.state import Cold, Counted, Cover, Loss, Lot, Outing, Parted, PartMoved, Told
from core.lots.trays import Stay, lots_in, moves_part, stays, stood_in

__all__ = [
    "Balance",
    "Batch",
    "Cold",
    "Counted",
    "Cover",
    "Loss",
    "Lot",
    "Objection",
    "Outing",
    "PartMoved",
    "Parted",
    "Session",
    "Soak",
    "Stay",
    "There",
    "Told",
    "air_is_over",
    "books_line",
    "cold_ends",
    "cold_up_to",
    "fold",
    "fold_batches",
    "fold_books",
    "fold_colds",
    "fold_cover",
    "fold_soaks",
    "for_sale_of",
    "kin_of",
    "lots_in",
    "may_not",
    "moves_part",
    "open_states",
    "sessions",
    "soak_is_over",
    "stays",
    "still_good",
    "stood_in",
    "tells_all_lost",
    "tells_of_cold_again",
    "tells_of_cold_trouble",
    "there",
]
