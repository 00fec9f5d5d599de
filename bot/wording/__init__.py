"""Every sentence that the bot can say."""

from bot.wording.speech import label_of, say_in

__all__ = ["label_of", "say_in"]
