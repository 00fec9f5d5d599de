"""Do the sums of seed, washing, air, cold, room and losses get a figure from the words that a crew texts?"""

from __future__ import annotations

import pytest

from core.errors import BadTradeFile
from core.questions.asked_sums import read_rows
from tests.conversation.talking import Talk

# Published values: germinationmetrics 0.1.10 vignette, example A (80 %, T50 5.97, mean 6.7, Maguire 6.14); Ernst, Bulk
# vs. Pure Live Seed (76.8 %) and Texas DOT (63.75 %); 7 CFR 201.55 (four of 100 at 89 %: 12); CDC appendix E (14.3 g/l of
# 35 % powder); 400 ml of 5 % to 20 l is 1,000 ppm; standard atomic weights (1,000 ppm IBA is 4.92 mM); FAO-56 (20 C at
# 50 % has its dew point at 9 C); JOB tables by arithmetic (12 trays of 11 x 21.4 in on 3 x 8 ft, 1,200 fours on 7).


@pytest.mark.parametrize(
    ("asked", "figures"),
    [
        (
            "germination test: 50 seeds, day 5 4, day 6 17, day 7 10, day 8 7, day 9 1, day 11 1",
            ("40 of 50 up (80 %", "day 6.0 (T50)", "mean 6.7 days", "speed 6.14"),
        ),
        (
            "mean germination time of 4 on day 5, 17 on day 6, 10 on day 7, 7 on day 8, 1 on day 9, 1 on day 11 out of 50",
            ("40 of 50", "mean 6.7 days"),
        ),
        ("four reps of 100: 92 88 95 79, are they within tolerance?", ("mean 88.5 %", "allows 12", "do not agree")),
        ("96% pure and 80% germination, what is the pure live seed?", ("76.8 % pure live seed", "1.30 of the bulk")),
        ("pls of 85% purity 75% germ?", ("63.75 %", "1.57")),
        (
            "how many grams of yarrow seed for 200 plants, purity 95%, germination 80%, survival 85%, 480 seeds per gram",
            ("80 % coming up", "at 95 % purity", "85 %", "295 would be a coin toss"),
        ),
        ("how much powder at 35% for 1 liter of 0.5%", ("14.3 g of 35 % powder",)),
        ("how many ml of 5% bleach for 20 liters at 1000 ppm", ("(400 ml) of bleach", "1:49", "1,000 ppm")),
        ("how much bleach for 5 gallons with 6% bleach", ("1:10.4", "From a jug of 6 %")),
        ("how much bleach for 5 gal at 0.5%? jug says 8.25%", ("1:15.5", "From a jug of 8.25 % that is 0.5 %")),
        ("how much alcohol for 1 qt of 70% from 91%", ("(730 ml) of the 91 % alcohol", "make 70 %", "flame")),
        ("how many mM is 1000 ppm iba", ("4.92 mM of iba",)),
        ("what is the dew point at 20C 50%", ("dew point 9 C", "too dry", "1.10 to 1.24 kPa")),
        ("how many benches for 1200 4in pots", ("75 trays", "7 benches")),
        ("how many bags of perlite for 40 six-packs", ("of perlite", "1 bag")),
        ("how many bags for 10 trays of 72", ("720 cells", "1 bag")),
        ("how many six packs fit in a tray", ("6 six-packs",)),
        ("how long will potting 96 take", ("about 2.1 h",)),
    ],
)
def test_a_sum_gets_its_figure(talk: Talk, asked: str, figures: tuple[str, ...]) -> None:
    told = talk.say(asked)
    assert [figure for figure in figures if figure not in told] == [], told
    assert len(told.splitlines()) <= 8, told


def test_no_counts_of_a_question_are_recorded(talk: Talk) -> None:
    talk.say("mean germination time and t50 of 4 on day 5, 17 on day 6, 10 on day 7 out of 50")
    with talk.store.books(talk.crew) as books:
        assert books.records(acts=("check", "sow")) == ()


def test_a_course_of_looks_gives_the_days_and_says_how_late_they_may_be(talk: Talk) -> None:
    talk.say("sowed 100 toyon seeds tray 3")
    for days, up in ((10, 4), (4, 27), (7, 44)):
        talk.wait(days=days)
        talk.say(f"lot 1 {up} germinated")
    told = talk.say("t50 of lot 1")
    assert "44 of 100 up" in told
    assert "half of those up by day 13.2 (T50)" in told
    assert "up to 10 days apart" in told


def test_a_lot_is_held_against_the_early_looks_of_other_lots(talk: Talk) -> None:
    """JOB: where half of the rooters show by day 42, 4 of 24 tugged is slow, not failing; the last counts would say so."""
    talk.say("stuck 72 coyote brush tips tray 1")
    talk.say("stuck 72 coyote brush tips tray 2")
    for days, one, two in ((42, 20, 24), (14, 41, 38), (14, 48, 42)):
        talk.wait(days=days)
        talk.say(f"lot 1 {one} of 72 rooted")
        talk.say(f"lot 2 {two} of 72 rooted")
    talk.say("stuck 72 coyote brush tips tray 9")
    talk.wait(days=42)
    assert "failing" not in talk.say("lot 3: 4 of 24 tugged are rooted")
    told = talk.say("is lot 3 failing?")
    assert "slow: 4 of 24 rooted on day 42, usually about 8" in told


def test_the_cold_has_two_ends_where_the_fridge_was_warm(talk: Talk) -> None:
    talk.say("madrone seed into the fridge, 40 days")
    talk.wait(days=14)
    talk.say("fridge 38F")
    assert "14 of 40 days of cold" in talk.say("how much chill has the madrone had?")
    talk.wait(days=3)
    talk.say("fridge was off about 3 days")
    told = talk.say("how much chill has the madrone had?")
    assert "14 to 17 of 40 days of cold" in told
    assert "a sprout overrides" in told


def test_trouble_of_the_fridge_is_no_treatment_of_seed(talk: Talk) -> None:
    talk.say("madrone seed into the fridge, 40 days")
    talk.wait(days=10)
    talk.say("fridge was warm 3 days")
    with talk.store.books(talk.crew) as books:
        cold = books.lots()[0].colds[-1]
    assert (cold.treatment, cold.days_asked, cold.days_uncertain) == ("cold_stratify", 40, 3)


def test_a_bench_that_was_measured_tells_how_many_more_fit(talk: Talk) -> None:
    assert "How big is bench 2?" in talk.say("how many more trays fit on bench 2?")
    talk.say("bench 2 is 3x8 ft")
    talk.say("moved trays 1-5 to bench 2")
    assert "Bench 2 takes 7 more: 5 stand there" in talk.say("how many more trays fit on bench 2?")


def test_one_mother_named_without_a_number_gave_the_whole_lot(talk: Talk) -> None:
    talk.say("stuck 40 coffeeberry tips from mother A, tray 1")
    talk.say("stuck 20 coffeeberry tips from mother B, tray 2")
    talk.say("stuck 12 coffeeberry tips from mother C, tray 3")
    told = talk.say("how many mothers do we have for coffeeberry?")
    assert "3 mothers, worth 2.4" in told


def test_strengths_are_compared_over_plants_that_had_both(year: Talk) -> None:
    told = year.say("does 8000 ppm beat 3000")
    assert "8000 ppm 58/72" in told
    assert "3000 ppm 31/72" in told


def test_a_trial_of_strengths_is_dealt(talk: Talk) -> None:
    told = talk.say("set up a trial: 48 toyon, 24 with 3000 ppm and 24 with 8000 ppm")
    assert "dealt at random (seed" in told
    assert "12 3000 ppm" in told


def test_losses_are_told_by_cause(year: Talk) -> None:
    assert "41 rot" in year.say("what did we lose and why")
    assert year.say("how much did we lose to rot").startswith("To rot: 41")


def test_a_rate_is_divided_by_what_is_asked(year: Talk) -> None:
    told = year.say("rooting rate by medium")
    assert "perlite:" in told
    assert "no verdict" in told


@pytest.mark.parametrize(
    "asked",
    ["will we have 120 coyote brush by 17 april", "can we promise 100 coyote brush for april 17", "season report"],
)
def test_a_question_needs_no_mark(year: Talk, asked: str) -> None:
    assert not year.say(asked).startswith("Kept as a note")


@pytest.mark.parametrize("said", ["can we get someone to mist tray 2", "will we water today or tomorrow"])
def test_an_offer_without_a_mark_stays_a_note(talk: Talk, said: str) -> None:
    assert talk.say(said).startswith("Kept as a note")


@pytest.mark.parametrize("text", ["[[row]]\nsum = 'tea'", "[[row]]\nsum = 'what_if'\nneeds = ['luck']", "[[row"])
def test_a_row_that_nobody_can_work_is_refused(text: str) -> None:
    with pytest.raises(BadTradeFile):
        read_rows(text)
