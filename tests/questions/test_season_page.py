"""Is the year drawn on a page that can be opened, and does it go with the answer?"""

from __future__ import annotations

from pathlib import Path

from bot.drawing import draw, facts_for, size_of
from bot.pictures import draw_rooting, draw_season, season_pages
from bot.wording import say_in
from core.answers import FiguresTold
from core.entries import Act, Entry
from core.questions import answer_question, show
from core.questions.shown import rooting_facts
from tests.conversation.talking import Talk


def season_of(talk: Talk) -> FiguresTold:
    with talk.store.books(talk.crew) as books:
        told = answer_question(books, Entry(act=Act.ASK, about="history"), talk.now, "how did we do this year")
    assert isinstance(told, FiguresTold)
    return told


def test_a_long_year_takes_more_pages_and_leaves_no_plant_out(year: Talk, tmp_path: Path) -> None:
    facts = dict(season_of(year).facts)
    assert size_of(draw_season(facts, tmp_path / "short.pdf")) == "1 page"
    row = facts["rows"][0]  # type: ignore[index]
    facts["rows"] = [{**row, "name": f"plant {place}"} for place in range(70)]
    drawn = [label.get_text() for page in season_pages(facts) for axes in page.axes for label in axes.get_yticklabels()]
    assert {f"plant {place}" for place in range(70)} <= set(drawn)
    assert size_of(draw_season(facts, tmp_path / "long.pdf")) == "3 pages"


def test_a_year_without_a_loss_says_that_none_was_noted(year: Talk) -> None:
    facts = {**season_of(year).facts, "causes": []}
    texts = [text.get_text() for page in season_pages(facts) for axes in page.axes for text in axes.texts]
    assert "No loss was noted. No record is not zero." in texts


def test_the_page_is_drawn_from_its_name_after_the_turn(year: Talk, tmp_path: Path) -> None:
    said = say_in(year.zone, pictures=True)((season_of(year),), year.now)
    assert said.document == f"season-{year.crew}-2026-{year.now:%Y%m%dT%H%M}.pdf"
    assert "2026: 620 started" in said.text
    facts = facts_for(year.store, said.document)
    assert facts is not None
    assert size_of(draw(said.document, facts, tmp_path)) == "1 page"


def test_a_name_that_is_no_picture_of_ours_asks_for_nothing(year: Talk) -> None:
    assert facts_for(year.store, "roots.jpg") is None
    assert facts_for(year.store, f"rooting-{year.crew}-26-099-20261125T0900.png") is None


def test_a_channel_without_pictures_offers_none(year: Talk) -> None:
    assert say_in(year.zone)((season_of(year),), year.now).document is None
    year.say("how does coyote brush root")
    assert year.buttons() == ["Table"]


def test_the_table_tells_the_lots_behind_an_answer(year: Talk) -> None:
    year.say("how does coyote brush root")
    told = year.press("Table")
    assert "26-001 coyote brush" in told
    assert "72 started, 31 rooted" in told
    assert "41 lost" in told
    assert "26-006 coyote brush" in told
    assert "not counted" in told


def test_the_picture_is_of_the_newest_lot_looked_at_with_the_others_behind(year: Talk, tmp_path: Path) -> None:
    with year.store.reading(year.crew) as books:
        facts = rooting_facts(books, "26-002")
        told = answer_question(books, Entry(act=Act.ASK, about="how", plant="coyote brush"), year.now, "how does it root")
        assert isinstance(told, FiguresTold)
        shown = show(books, told.choices[0].action, year.now)
    assert told.choices[0].action == {"show": "picture", "lot": "26-002"}
    assert facts is not None
    assert [look[1:3] for look in facts["looks"]] == [[58, 72]]
    assert len(facts["others"]) == 1
    assert all(low <= middle <= high for _, low, middle, high in facts["curve"])
    said = say_in(year.zone, pictures=True)((shown,), year.now)
    assert said.document is not None
    assert size_of(draw(said.document, facts, tmp_path)) == "910x546"


def test_a_lot_with_no_look_can_be_drawn(tmp_path: Path) -> None:
    curve = [(day, 0.0, day / 200, day / 120) for day in range(0, 101, 10)]
    facts = {"number": "26-001", "plant": "toyon", "kind": "seed", "curve": curve, "looks": [], "others": []}
    assert draw_rooting(facts, tmp_path / "a.png").read_bytes().startswith(b"\x89PNG")
