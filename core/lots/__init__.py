"""What a lot is now, folded from its records: counts, stage, cover, place, and what may not happen to it."""

from core.lots.state import Cold, Counted, Cover, Loss, Lot

__all__ = ["Cold", "Counted", "Cover", "Loss", "Lot"]
