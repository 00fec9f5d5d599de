"""Talk with the bot: questions, answers, corrections, greetings and remarks."""
