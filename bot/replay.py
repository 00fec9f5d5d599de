"""What `benchhand replay` does with scripts: plays them, and shows, checks or updates what the bot says."""

from __future__ import annotations

import difflib
import tempfile
from collections.abc import Sequence
from pathlib import Path
from typing import TextIO

from bot.script_chat import play
from bot.script_lines import ScriptFault


def replay(files: Sequence[str], *, database: str | None, check: bool, update: bool, out: TextIO, err: TextIO) -> int:
    """Plays each file; 0 fine, 1 where a check differs, 2 where a script has a fault."""
    worst = 0
    for file in files:
        try:
            worst = max(worst, _replay_one(file, database, check, update, out))
        except ScriptFault as fault:
            print(fault, file=err)
            worst = 2
        except OSError as wrong:
            print(f"{file}: {wrong.strerror}", file=err)
            worst = 2
    return worst


def _replay_one(file: str, database: str | None, check: bool, update: bool, out: TextIO) -> int:
    path = Path(file)
    text = path.read_text(encoding="utf-8")
    with tempfile.TemporaryDirectory(prefix="benchhand-") as folder:
        played = play(text, path.name, database or f"sqlite:///{folder}/talk.db")
    if update:
        path.write_text(played, encoding="utf-8")
        return 0
    if not check:
        out.write(played)
        return 0
    if played == text:
        return 0
    out.writelines(
        difflib.unified_diff(
            text.splitlines(keepends=True), played.splitlines(keepends=True), file, f"{file} (as the bot really says)"
        )
    )
    return 1
