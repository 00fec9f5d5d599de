"""Which words does the bench know: the vocabulary files and the plants, loaded once."""

from core.vocabulary.loading import ActWord, Leaf, Words, words

__all__ = ["ActWord", "Leaf", "Words", "words"]
