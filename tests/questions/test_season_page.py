"""Is the year drawn on a page that can be opened, and does it go with the answer?"""

from __future__ import annotations

from pathlib import Path

from bot.pictures import draw_rooting, draw_season
from bot.wording import say_in
from core.answers import FiguresTold
from core.entries import Act, Entry
from core.questions import answer_question
from tests.conversation.talking import Talk


def season_of(talk: Talk) -> FiguresTold:
    with talk.store.books(talk.crew) as books:
        told = answer_question(books, Entry(act=Act.ASK, about="history"), talk.now, "how did we do this year")
    assert isinstance(told, FiguresTold)
    return told


def test_the_year_is_a_pdf_and_a_picture(year: Talk, tmp_path: Path) -> None:
    facts = season_of(year).facts
    assert draw_season(facts, tmp_path).read_bytes().startswith(b"%PDF")
    assert draw_season(facts, tmp_path, ending="png").read_bytes().startswith(b"\x89PNG")


def test_the_page_goes_with_the_message(year: Talk, tmp_path: Path) -> None:
    said = say_in(year.zone, tmp_path)((season_of(year),), year.now)
    assert said.document == f"season-{year.crew}-2026.pdf"
    assert (tmp_path / said.document).is_file()
    assert "2026: 620 started" in said.text


def test_without_a_folder_there_is_no_page(year: Talk) -> None:
    assert say_in(year.zone)((season_of(year),), year.now).document is None


def test_a_lot_with_no_look_can_be_drawn(tmp_path: Path) -> None:
    curve = [(day, 0.0, day / 200, day / 120) for day in range(0, 101, 10)]
    facts = {"number": "26-001", "plant": "toyon", "curve": curve, "looks": []}
    assert draw_rooting(facts, tmp_path).read_bytes().startswith(b"\x89PNG")
