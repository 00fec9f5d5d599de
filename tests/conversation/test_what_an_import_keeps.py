"""What follows from the records comes back with them: the first look that was learned, and who wants no reminders."""

from __future__ import annotations

import json
from contextlib import closing
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

from core.conversation.checking import refold_everything
from core.conversation.hushing import who_is_quiet
from core.conversation.learning import learned_of
from core.storage import open_store
from tests.conversation.talking import Talk


def taught(talk: Talk) -> None:
    """Three lots whose roots were seen on day 33 and that are gone since, and a fourth that stands."""
    began = talk.now
    for tray in (1, 2, 3):
        talk.say(f"stuck 40 coyote brush tips, tray {tray}")
    talk.now = began + timedelta(days=33)
    talk.say("stuck 40 coyote brush tips, tray 9")
    for lot in (1, 2, 3):
        talk.say(f"lot {lot} {11 + lot} rooted")
        talk.say(f"lot {lot} all dead")


def looks(talk: Talk) -> list[object]:
    with talk.store.reading(talk.crew) as books:
        return [(one.due.subject.name, one.due.facts["day"]) for one in books.open_reminders(kinds=["root_check"])]


def test_an_import_learns_again_and_keeps_who_is_quiet(talk: Talk, tmp_path: Path) -> None:
    taught(talk)
    talk.say("stop reminding me", by="osei")
    assert looks(talk) == [("26-004", 33)]
    rows = [json.loads(json.dumps(row)) for row in talk.rows()]
    with talk.store.reading(talk.crew) as books:
        before = learned_of(books)
    with closing(open_store(f"sqlite:///{tmp_path / 'other.db'}")) as store:
        other = Talk(store=store, now=talk.now, group="other")
        with store.books(other.crew) as books:
            books.import_rows(rows)
        refold_everything(store, other.crew, talk.now)
        assert looks(other) == [("26-004", 33)]
        with store.reading(other.crew) as books:
            assert [replace(one, version=1) for one in learned_of(books)] == [replace(one, version=1) for one in before]
            assert who_is_quiet(books) == {"osei"}
        assert other.faults() == []


def test_a_backup_holds_what_was_learned_and_who_is_quiet(tmp_path: Path) -> None:
    with closing(open_store(f"sqlite:///{tmp_path / 'bench.db'}")) as store:
        talk = Talk(store=store)
        taught(talk)
        talk.say("stop reminding me", by="osei")
        store.back_up(tmp_path / "copy.db")
        with store.reading(talk.crew) as books:
            learned = learned_of(books)
    with closing(open_store(f"sqlite:///{tmp_path / 'copy.db'}")) as copy, copy.reading(talk.crew) as books:
        assert learned_of(books) == learned
        assert learned[0].days == 33
        assert who_is_quiet(books) == {"osei"}
