"""Are the files of phrases sound that a grower may mend: every key is known, every line has its places?"""

from __future__ import annotations

import re
import tomllib
from dataclasses import fields
from importlib.resources import files
from typing import Any

import pytest

from core.entries import Act, Entry
from core.vocabulary.loading import read_toml
from tests.conversation.talking import Talk


def page(package: str, name: str) -> dict[str, Any]:
    return tomllib.loads(files(package).joinpath(name).read_text(encoding="utf-8"))


def test_a_list_picks_only_by_causes_that_a_loss_can_have() -> None:
    assert set(page("core.questions", "listing.toml")["lost_to"]) <= set(read_toml("values.toml")["cause"])


def test_what_can_be_asked_as_not_done_is_an_act() -> None:
    assert {Act(one) for one in page("core.questions", "undone.toml")["acts"]["daily"]} <= set(Act)


@pytest.mark.parametrize("how", list(page("core.questions", "listing.toml")["standing"]))
def test_every_way_of_standing_can_be_asked_for(talk: Talk, how: str) -> None:
    talk.say("stuck 72 coyote brush tips, tray 2")
    phrase = page("core.questions", "listing.toml")["standing"][how][0]
    told = talk.say(f"which lots are {phrase}")
    assert told.startswith("26-001 coyote brush" if how == "stuck" else "No open lots"), told


def test_each_way_of_telling_a_source_names_the_lot_and_the_source() -> None:
    for phrase in page("core.conversation", "provenance.toml")["says"]:
        assert (phrase.count("{lot}"), phrase.count("{source}")) == (1, 1), phrase


def test_what_a_note_leans_on_is_a_detail_of_an_entry() -> None:
    lists = read_toml("likewise.toml")
    assert set(lists["same"]) <= {part.name for part in fields(Entry)}
    assert set(lists["goes_on"]) - {"lead", "same"} <= {act.value for act in Act}
    assert all(number.isdecimal() for number in lists["all_of"])


@pytest.mark.parametrize("name", ["set_aside.toml", "targets_told.toml"])
def test_what_stands_in_braces_is_a_list_of_the_file_or_a_name(name: str) -> None:
    told = page("core.conversation", name)
    known = {*told["words"], "who", "whos", "plant", "n", "day"}
    for table in told.values():
        for phrase in table.get("says", ()):
            assert set(re.findall(r"\{(\w+)\}", phrase)) <= known, phrase
            assert sum(phrase.count(name) for name in ("{who}", "{whos}", "{plant}", "{sale}")) == 1, phrase
