"""`benchhand replay`: plays, checks, updates, and names the line of every fault."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.command_line.conftest import Run

HEAD = "crew: Tern Rock\nzone: America/Los_Angeles\nclock: 2026-02-10 09:00\n\n"
SAID = HEAD + "imke: hi\n"
ANSWERED = SAID + 'bot: Hello. Text what you did, like "misted tray 2", or ask "what\'s due".\n'


def _script(folder: Path, text: str) -> Path:
    path = folder / "a.chat"
    path.write_text(text, encoding="utf-8")
    return path


def test_replay_prints_every_line_and_what_the_bot_said(run: Run, tmp_path: Path) -> None:
    _script(tmp_path, SAID)
    ran = run("replay", "a.chat")
    assert (ran.code, ran.out) == (0, ANSWERED)


def test_check_is_0_where_the_talk_holds(run: Run, tmp_path: Path) -> None:
    _script(tmp_path, ANSWERED)
    ran = run("replay", "--check", "a.chat")
    assert (ran.code, ran.out, ran.err) == (0, "", "")


def test_check_is_1_with_a_diff_where_it_does_not(run: Run, tmp_path: Path) -> None:
    _script(tmp_path, SAID + "bot: Good morning.\n")
    ran = run("replay", "--check", "a.chat")
    assert ran.code == 1
    assert "-bot: Good morning.\n+bot: Hello." in ran.out


def test_update_rewrites_the_bots_lines(run: Run, tmp_path: Path) -> None:
    path = _script(tmp_path, SAID + "bot: Good morning.\n")
    assert run("replay", "--update", "a.chat").code == 0
    assert path.read_text(encoding="utf-8") == ANSWERED


@pytest.mark.parametrize(
    ("lines", "number", "fault"),
    [
        ("imke presses: Donne\n", 5, 'no button "Donne" on the bot\'s latest message'),
        ("imke replies: done\n", 5, "there is no message of the bot's to reply to"),
        ("imke edits: hello\n", 5, "imke has said nothing that could be edited"),
        ("imke: hi\nimke replies to 9: done\n", 6, "the bot has not said 9 messages"),
        ("imke: hi\nclock: 2026-02-09 09:00\n", 6, "time does not run backwards"),
        ("clock: soon\n", 5, "no such time: soon; write 2026-03-01 08:00 or +14d"),
        ("what is this\n", 5, "not a line of a script: what is this"),
        ("late 2026-02-11 09:00 imke: hi\n", 5, "a late message was written before the clock's time, not after"),
    ],
)
def test_a_fault_names_its_file_and_line(run: Run, tmp_path: Path, lines: str, number: int, fault: str) -> None:
    _script(tmp_path, HEAD + lines)
    ran = run("replay", "--check", "a.chat")
    assert (ran.code, ran.err) == (2, f"a.chat:{number}: {fault}\n")


def test_a_file_that_is_not_there_is_2(run: Run) -> None:
    ran = run("replay", "none.chat")
    assert (ran.code, ran.err) == (2, "none.chat: No such file or directory\n")


def test_check_and_update_together_are_wrong_use(run: Run, tmp_path: Path) -> None:
    _script(tmp_path, SAID)
    assert run("replay", "--check", "--update", "a.chat").code == 2


def test_a_restart_and_a_private_chat_and_a_stranger_are_played(run: Run, tmp_path: Path) -> None:
    script = HEAD + "imke, private: hi\nrestart\nstranger zed: who are you\n"
    _script(tmp_path, script)
    ran = run("replay", "a.chat")
    assert "bot, private to imke: Hello." in ran.out
    assert "bot, private to zed: I talk only with the crew I belong to." in ran.out


def test_a_document_and_a_late_message_are_played(run: Run, tmp_path: Path) -> None:
    script = HEAD + (
        "imke: stuck 30 toyon tips, tray 3\nclock: 2026-02-10 14:00\n"
        "late 2026-02-10 09:30 osei: misted tray 3\nimke sends a.jpg: lot 1 leaf spots\n"
    )
    _script(tmp_path, script)
    ran = run("replay", "a.chat")
    assert "It reached me late" in ran.out
    assert "Picture kept with 26-001." in ran.out
