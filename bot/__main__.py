"""The command line: the only place that wires the parts together, reads the clock and the environment."""

from __future__ import annotations

import argparse
import json
import os
import sys
from collections.abc import Sequence
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from bot.settings import BadSetting, read_settings
from core.errors import BenchError

FINE, DOES_NOT_HOLD, WRONG_USE = 0, 1, 2


def main(arguments: Sequence[str] | None = None) -> int:
    """Runs one command; 0 fine, 1 the thing checked does not hold, 2 wrong use (with one line on standard error)."""
    parser = _parser()
    chosen = parser.parse_args(arguments)
    try:
        return int(_RUN[chosen.command or "chat"](chosen))
    except BadSetting as wrong:
        print(f"benchhand: {wrong}", file=sys.stderr)
        return WRONG_USE
    except BenchError as wrong:
        print(f"benchhand: {wrong}" + (f"; {wrong.hint}" if wrong.hint else ""), file=sys.stderr)
        return WRONG_USE
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return FINE
    except KeyboardInterrupt:
        print(file=sys.stderr)
        return FINE


def _now() -> datetime:
    return datetime.now(UTC)


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="benchhand", description="The bench assistant that a propagation crew texts.")
    commands = parser.add_subparsers(dest="command", metavar="COMMAND", title="commands")
    commands.add_parser("chat", help="talk at the console (the default); reads piped lines too")
    commands.add_parser("serve", help="talk on Telegram (BENCHHAND_TELEGRAM_TOKEN)")
    replay = commands.add_parser("replay", help="play conversation scripts and print what the bot really says")
    replay.add_argument("files", nargs="+", metavar="FILE")
    replay.add_argument(
        "--check", action="store_true", help="compare with the bot's lines in the file; exit 1 where they differ"
    )
    replay.add_argument("--update", action="store_true", help="rewrite the bot's lines in the file")
    replay.add_argument("--database", metavar="URL", help="play against this database instead of a temporary one")
    parse = commands.add_parser("parse", help="read notes from standard input, print JSON")
    parse.add_argument("--now", metavar="TIME", help="the local time the notes were sent, like 2026-03-02T09:10")
    parse.add_argument("--jsonl", action="store_true", help='read a JSON object a line: {"now": …, "note": …}')
    export = commands.add_parser("export", help="print every entry in the books")
    export.add_argument("--format", choices=("jsonl", "csv"), default="jsonl")
    export.add_argument("--whole", action="store_true", help="add what an import needs to lose nothing")
    bring = commands.add_parser("import", help="read entries that export printed into an empty database")
    bring.add_argument("file", metavar="FILE")
    backup = commands.add_parser("backup", help="copy the SQLite books to a file while they are in use")
    backup.add_argument("file", metavar="FILE")
    commands.add_parser("check", help="fold all lots again from their entries and compare")
    return parser


def _chat(chosen: argparse.Namespace) -> int:
    from bot.console_chat import chat
    from core.storage import open_store

    settings = read_settings(os.environ)
    store = open_store(settings.database_url)
    try:
        return chat(store, settings.zone, _now, sys.stdin, sys.stdout, Path(settings.media))
    finally:
        store.close()


def _serve(chosen: argparse.Namespace) -> int:
    from bot.serving import serve

    settings = read_settings(os.environ)
    if settings.telegram_token is None:
        raise BadSetting("BENCHHAND_TELEGRAM_TOKEN is not set; the README says how to make one")
    return serve(settings, _now, sys.stdout)


def _replay(chosen: argparse.Namespace) -> int:
    from bot.replay import replay

    if chosen.check and chosen.update:
        raise BadSetting("replay takes --check or --update, not both")
    return replay(
        chosen.files, database=chosen.database, check=chosen.check, update=chosen.update, out=sys.stdout, err=sys.stderr
    )


def _parse(chosen: argparse.Namespace) -> int:
    from core.notes import read

    settings = read_settings(os.environ)
    now = _local_time(chosen.now) if chosen.now else _now().astimezone(settings.zone).replace(tzinfo=None)
    sys.stdin.reconfigure(encoding="utf-8", errors="replace")  # type: ignore[union-attr]
    sys.stdout.reconfigure(encoding="utf-8")  # type: ignore[union-attr]
    for number, line in enumerate(sys.stdin, start=1):
        line = line.rstrip("\n")
        note, at = (line, now) if not chosen.jsonl else _json_note(line, number, now)
        print(json.dumps(read(note, at).as_keys(), ensure_ascii=False))
    return FINE


def _json_note(line: str, number: int, now: datetime) -> tuple[str, datetime]:
    if not line.strip():
        return "", now
    try:
        told: dict[str, Any] = json.loads(line)
        return str(told["note"]), _local_time(told["now"]) if "now" in told else now
    except (ValueError, KeyError, TypeError):
        raise BadSetting(f"line {number} of the input is no JSON object with a note") from None


def _local_time(text: str) -> datetime:
    try:
        return datetime.fromisoformat(text).replace(tzinfo=None)
    except (TypeError, ValueError):
        raise BadSetting(f"no such time: {text}; write it like 2026-03-02T09:10") from None


def _export(chosen: argparse.Namespace) -> int:
    from bot.tables import write_export
    from core.storage import open_store

    store = open_store(read_settings(os.environ).database_url)
    try:
        return write_export(store, chosen.format, chosen.whole, sys.stdout)
    finally:
        store.close()


def _import(chosen: argparse.Namespace) -> int:
    from bot.tables import read_import
    from core.storage import open_store

    settings = read_settings(os.environ)
    store = open_store(settings.database_url)
    try:
        return read_import(store, settings.zone, chosen.file, _now(), sys.stdout)
    finally:
        store.close()


def _backup(chosen: argparse.Namespace) -> int:
    from core.storage import open_store

    store = open_store(read_settings(os.environ).database_url)
    try:
        store.back_up(Path(chosen.file))
        print(f"The books are copied to {chosen.file}.")
        return FINE
    finally:
        store.close()


def _check(chosen: argparse.Namespace) -> int:
    from core.conversation.checking import check_books
    from core.storage import open_store

    store = open_store(read_settings(os.environ).database_url)
    try:
        faults = [fault for crew in store.crews() for fault in check_books(store, crew.number)]
        print("\n".join(faults) if faults else "The books hold: every lot folds again to what is stored.")
        return DOES_NOT_HOLD if faults else FINE
    finally:
        store.close()


_RUN = {
    "chat": _chat,
    "serve": _serve,
    "replay": _replay,
    "parse": _parse,
    "export": _export,
    "import": _import,
    "backup": _backup,
    "check": _check,
}

if __name__ == "__main__":
    sys.exit(main())
