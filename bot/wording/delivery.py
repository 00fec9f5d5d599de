"""What is said around a message on its way: at the start of `serve`, on a possible repeat, where a turn failed."""

POSSIBLY_REPEATED = "(possibly repeated)"
"""Stands under a message that may have arrived before."""

COULD_NOT_WORK = "I could not work that one out and recorded nothing of it; your words are kept. Text it another way."

COMMANDS = (
    ("help", "what to text"),
    ("due", "what is due"),
    ("open", "what stands open now"),
    ("lots", "which lots are open"),
    ("undo", "take back your last note"),
)
"""The commands in Telegram's menu; plain words do the same."""


def crew_line(crew: str, code: str, username: str, has_lead: bool) -> str:
    """Which code lets people in to a crew."""
    who = "Whoever sends it joins." if has_lead else "The first to send it leads the crew."
    return (
        f"{crew}: the code is {code}\n"
        f"  Send it to @{username} in private, or open https://t.me/{username}?start={code}\n"
        f"  {who}"
    )


def listening_line(username: str) -> str:
    """That the bot has begun to listen."""
    return f"Listening as @{username}. Ctrl-C stops."


def door_line(username: str, port: int, url: str) -> str:
    """That updates are to come to an address."""
    return f"Listening as @{username} on port {port}, for what comes to {url}. Ctrl-C stops."


def waiting_line(why: str) -> str:
    """That Telegram cannot be reached yet."""
    return f"Telegram does not answer yet ({why}); trying again."
