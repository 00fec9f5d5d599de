"""The vocabulary files hold no word twice without a rule, and every rule they name exists."""

from __future__ import annotations

from collections import defaultdict
from datetime import datetime

import pytest

from core.entries import Act
from core.notes import read
from core.notes.acts.shared import RULE_NAMES
from core.vocabulary.loading import act_meanings, plain_words, read_toml, split_words, words

FILES = (
    "acts.toml", "shared.toml", "values.toml", "cues.toml", "measures.toml", "talk.toml", "questions.toml",
    "plain_words.toml", "date_words.toml", "slips.toml", "asides.toml", "turns_of_phrase.toml",
)  # fmt: skip


@pytest.mark.parametrize("name", FILES)
def test_a_file_says_how_to_edit_it(name: str) -> None:
    from importlib.resources import files

    head = files("core.vocabulary").joinpath(name).read_text(encoding="utf-8").split("\n\n")[0]
    assert head.startswith("#")
    assert read_toml(name)


def test_no_word_is_of_two_acts_without_a_rule() -> None:
    meanings: dict[tuple[str, str], set[object]] = defaultdict(set)
    for phrase, role, meaning in act_meanings():
        meanings[phrase, role].add((meaning.act, tuple(sorted(meaning.says.items())), meaning.rule))
    assert {key for key, said in meanings.items() if len(said) > 1} == set()


def test_a_deed_is_not_also_shared() -> None:
    roles: dict[str, set[str]] = defaultdict(set)
    for phrase, role, _ in act_meanings():
        roles[phrase].add(role)
    assert {phrase for phrase, named in roles.items() if {"act", "shared"} <= named} == set()
    assert {phrase for phrase, named in roles.items() if "act" in named and len(named) > 1} == set()


def test_every_shared_word_has_its_rule() -> None:
    assert {table["rule"] for table in read_toml("shared.toml")["shared"]} == RULE_NAMES


@pytest.mark.parametrize("name", ["values.toml"])
def test_no_word_has_two_values_of_one_kind(name: str) -> None:
    for kind, table in read_toml(name).items():
        owners: dict[str, list[str]] = defaultdict(list)
        for value, phrases in table.items():
            for phrase in phrases:
                owners[phrase].append(value)
        assert {phrase: named for phrase, named in owners.items() if len(named) > 1} == {}, kind


def test_phrases_are_written_as_the_reader_splits_them() -> None:
    assert [
        phrase for phrase in words().phrases if phrase != phrase.lower() or "  " in phrase or not split_words(phrase)
    ] == []


def test_plain_words_are_not_words_of_the_bench() -> None:
    plain = set(read_toml("plain_words.toml")["plain"])
    deeds = {phrase for phrase, role, _ in act_meanings() if role == "act" and " " not in phrase}
    assert plain & deeds <= {"lost"}
    assert plain <= plain_words()


def test_a_right_word_that_stands_for_another_says_when() -> None:
    conditions = {
        "before", "then", "not_before", "after", "not_after", "later", "deeds", "no_deed", "whole", "names_tray",
    }  # fmt: skip
    for word, told in read_toml("slips.toml")["autocorrected"].items():
        for way in told if isinstance(told, list) else [told]:
            assert len({"meant", "either"} & way.keys()) == 1, word
            assert way.keys() & conditions, word
            assert way.keys() <= conditions | {"meant", "either"}, word
            assert set(way.get("deeds", ())) <= {act.value for act in Act}, word


def test_a_listed_misspelling_is_read_and_told() -> None:
    now = datetime(2026, 8, 19, 10, 30)  # noqa: DTZ001  local wall clock, as the reader takes it
    for word, slips in read_toml("slips.toml")["misspelt"].items():
        for slip in slips:
            wrong, right = read(f"stuck 20 toyon in tray 3, {slip}", now), read(f"stuck 20 toyon in tray 3, {word}", now)
            told = [(one.read, one.as_) for one in wrong.repairs]
            assert told == [(slip, word)]
            assert [one.act for one in wrong.entries] == [one.act for one in right.entries], slip
