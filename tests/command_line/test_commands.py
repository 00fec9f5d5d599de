"""Each command: what it prints, and its exit code (0 fine, 1 the thing checked does not hold, 2 wrong use)."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.command_line.conftest import Run

TALK = "stuck 72 coyote brush tips, perlite, tray 2\nlot 1 31/72 rooted, lost 4 to rot\nno wait, rooted was 27\nundo\n"


def test_parse_prints_the_contracts_example(run: Run) -> None:
    ran = run("parse", "--now", "2026-03-30T09:10", lines="14: 31/72 rooted, 4 rotted, misted\n\n")
    first, blank = map(json.loads, ran.out.splitlines())
    assert ran.code == 0
    # The example of the published contract of `benchhand parse`.
    assert first == {
        "entries": [
            {"act": "check", "lots": ["14"], "state": "rooted", "count": 31, "of": 72},
            {"act": "lose", "lots": ["14"], "count": 4, "cause": "rot"},
            {"act": "water", "lots": ["14"], "method": "mist"},
        ],
        "asks": [],
    }
    assert blank == {"entries": [], "asks": []}


def test_parse_reads_json_lines_of_several_days(run: Run) -> None:
    lines = (
        '{"now": "2026-03-02T09:10", "note": "misted tray 2 yesterday"}\n{"now": "2026-04-02T09:10", "note": "14"}\n'
    )
    ran = run("parse", "--jsonl", lines=lines)
    first = json.loads(ran.out.splitlines()[0])
    assert first["entries"][0]["on"] == "2026-03-01"


@pytest.mark.parametrize("line", ['{"now": 3}', "[]", "no json", '{"note": "x", "now": "never"}'])
def test_parse_refuses_what_is_no_json_note_in_one_line(run: Run, line: str) -> None:
    ran = run("parse", "--jsonl", lines=line + "\n")
    assert ran.code == 2
    assert ran.err.startswith("benchhand: ")
    assert ran.err.count("\n") == 1


def test_a_piped_chat_answers_each_line(run: Run) -> None:
    ran = run("chat", lines=TALK)
    assert ran.code == 0
    assert "-001: stuck 72 coyote brush tip cuttings" in ran.out
    assert ran.err == ""


def test_no_command_is_chat(run: Run) -> None:
    assert run(lines="hi\n").out.startswith("Hello.")


def test_a_button_is_pressed_by_its_label_in_brackets(run: Run) -> None:
    ran = run("chat", lines="stuck 72 coyote brush tips, tray 2\n[Undo]\n")
    assert "Taken back" in ran.out


def test_what_was_exported_imports_into_the_same_lots(run: Run, tmp_path: Path) -> None:
    run("chat", lines=TALK + "split 20 of lot 1 as lot 7\nmerged lot 7 into lot 1\nundo\n")
    exported = run("export", "--whole").out
    (tmp_path / "books.jsonl").write_text(exported, encoding="utf-8")
    other = {"BENCHHAND_DATABASE_URL": "sqlite:///other.db"}
    assert run("import", "books.jsonl", **other).code == 0
    assert run("export", "--whole", **other).out == exported
    assert run("check", **other).code == 0
    assert run("import", "books.jsonl", **other).code == 2


def test_export_has_the_published_keys(run: Run) -> None:
    run("chat", lines=TALK)
    rows = [json.loads(line) for line in run("export", "--format", "jsonl").out.splitlines()]
    assert {"id", "act", "at", "by", "said"} <= set(rows[0])
    assert rows[0]["act"] == "stick"
    assert rows[0]["at"].endswith("Z")


def test_export_as_a_table_has_a_head(run: Run) -> None:
    run("chat", lines=TALK)
    assert run("export", "--format", "csv").out.startswith("id,at,lot,act,count,plant")


def test_check_says_that_the_books_hold(run: Run) -> None:
    run("chat", lines=TALK)
    ran = run("check")
    assert (ran.code, ran.out) == (0, "The books hold: every lot folds again to what is stored.\n")


def test_check_names_a_lot_that_does_not_follow_from_its_entries(run: Run, tmp_path: Path) -> None:
    import sqlite3

    run("chat", lines=TALK)
    with sqlite3.connect(tmp_path / "benchhand.db") as connection:
        changed = connection.execute(
            "UPDATE record SET entry = replace(entry, '72', '71') WHERE act = 'stick'"
        ).rowcount
    connection.close()
    assert changed == 1
    ran = run("check")
    assert ran.code == 1
    assert "-001: what is stored does not follow from its entries" in ran.out


@pytest.mark.parametrize("command", ["chat", "serve", "replay", "parse", "export", "import", "backup", "check"])
def test_each_command_has_help(run: Run, command: str) -> None:
    ran = run(command, "--help")
    assert ran.code == 0
    assert ran.out.startswith(f"usage: benchhand {command}")


@pytest.mark.parametrize("arguments", [("frobnicate",), ("export", "--format", "xml"), ("replay",), ("import",)])
def test_wrong_use_is_2(run: Run, arguments: tuple[str, ...]) -> None:
    ran = run(*arguments)
    assert ran.code == 2
    assert ran.err


@pytest.mark.parametrize(
    ("command", "name", "value"),
    [
        ("check", "BENCHHAND_DATABASE_URL", "oracle://nowhere"),
        ("check", "BENCHHAND_DATABASE_URL", "sqlite:////no/such/folder/x.db"),
        ("chat", "BENCHHAND_ZONE", "America/Atlantis"),
        ("serve", "BENCHHAND_ZONE", "UTC"),
    ],
)
def test_a_bad_environment_is_refused_in_one_line(run: Run, command: str, name: str, value: str) -> None:
    ran = run(command, **{name: value})
    assert ran.code == 2
    assert ran.err.startswith("benchhand: ")
    assert ran.err.count("\n") == 1
