"""Do questions that rest on sums get the figure first, its range, and what it rests on, in six lines at most?"""

from __future__ import annotations

import re

import pytest

from tests.conversation.talking import Talk

ASKED = (
    "how does coyote brush root",
    "how well did heel cuttings root",
    "what percent of sage roots",
    "how many coyote brush do i need to stick for 120 by 17 april",
    "when must i stick sage by 17 april",
    "how many coyote brush will we have on 17 april",
    "is heel or tip better for coffeeberry",
    "split 60 toyon: 30 heel, 30 tip",
    "when can i pot up lot 6",
    "how long does coyote brush take to root",
    "how much toyon seed for 60 plants",
    "how many seeds per cell for toyon",
    "how much 3000 ppm from 1% concentrate for 500 ml",
    "how much mix for 96 4 in pots",
    "how many trays fit on a 3x8 ft bench",
    "how many mothers does coyote brush come from",
    "what should we grow next year",
    "how did we do this year",
    "is lot 6 failing",
)


@pytest.mark.parametrize("asked", ASKED)
def test_an_answer_is_short_and_has_a_figure(year: Talk, asked: str) -> None:
    told = year.say(asked)
    assert len(told.splitlines()) <= 6, told
    assert re.search(r"\d", told), told
    assert "No record" not in told or "No record is not zero" in told or "not one mother" in told


def test_a_rate_says_its_range_its_lots_and_its_prior(year: Talk) -> None:
    told = year.say("how does coyote brush root")
    assert "89 of 144 cuttings in 2 finished lots" in told
    low, high = map(int, re.search(r"\((\d+) to (\d+) %, 8 in 10\)", told).groups())  # type: ignore[union-attr]
    assert low < 62 < high
    assert "Drawn towards" in told
    assert "never counted: 26-006" in told


def test_a_lot_without_history_is_a_guess_and_not_zero(year: Talk) -> None:
    told = year.say("what percent of sage roots")
    assert "a guess" in told
    assert "No record is not zero" in told


def test_three_of_three_is_not_all(talk: Talk) -> None:
    talk.say("stuck 3 toyon tips, tray 1")
    talk.wait(days=150)
    talk.say("lot 1 3/3 rooted")
    told = talk.say("how well does toyon root")
    assert int(re.search(r"about (\d+) %", told).group(1)) < 90  # type: ignore[union-attr]


def test_a_plan_asks_for_more_than_division_gives(year: Talk) -> None:
    told = year.say("how many coyote brush do i need to stick for 120 by 17 april")
    found = re.search(r"stick (\d+) \(9 in 10\), (\d+) \(8 in 10\)\. (\d+) would be", told)
    assert found is not None, told
    number, eight, coin = map(int, found.groups())
    assert coin < eight < number
    assert "Counted in:" in told
    assert "tray" in told
    assert "six-packs" in told
    assert "mother plants" in told
    assert "stick by" in told


def test_what_is_on_the_bench_lowers_the_number(talk: Talk) -> None:
    asked = "how many toyon do i need to stick for 60 by 30 december"
    empty = int(re.search(r"stick (\d+) \(9 in 10\)", talk.say(asked)).group(1))  # type: ignore[union-attr]
    talk.say("stuck 72 toyon tips, tray 1")
    talk.wait(minutes=20)
    more = int(re.search(r"stick (\d+) \(9 in 10\)", talk.say(asked)).group(1))  # type: ignore[union-attr]
    assert more < empty


def test_a_target_is_the_day_and_the_number_of_later_questions(year: Talk) -> None:
    year.say("need 120 coyote brush for 17 april 2027")
    year.wait(minutes=20)
    told = year.say("how many coyote brush will we have on 17 april")
    assert "Chance of 120" in told
    assert "short" in told
    assert "Chance of 120" in year.say("what if we only get 90")


def test_a_late_lot_makes_a_fork(talk: Talk) -> None:
    talk.say("stuck 72 coyote brush tips, tray 1")
    told = talk.say("how many coyote brush will we have on 25 july")
    fork = re.search(r"Fork: (\d+) if lot 26-001 is in time \(.+\), (\d+) if not", told)
    assert fork is not None, told
    assert int(fork.group(2)) == 0 < int(fork.group(1))


def test_a_forecast_counts_pots_cells_and_the_unrooted_apart(year: Talk) -> None:
    told = year.say("how many coyote brush will we have on 17 april")
    assert "From 155 alive (11 potted, 58 rooted and 86 not known rooted) in 3 lots" in told, told
    assert "old: 26-001 and 26-002, count again" in told
    assert "Roots never counted: 26-006" in told


def test_a_comparison_of_trays_says_so_and_what_would_settle_it(year: Talk) -> None:
    told = year.say("is heel or tip better for coffeeberry")
    assert "heel 41/72 (57 %), tip 20/72 (28 %)" in told
    assert "trays have their own luck" in told
    assert "To settle it" in told
    assert "is better." not in told


def test_ways_that_differ_in_their_dates_get_no_verdict(talk: Talk) -> None:
    talk.say("stuck 72 coffeeberry tip, tray 3")
    talk.wait(days=60)
    talk.say("stuck 72 coffeeberry heel, tray 4")
    talk.wait(days=150)
    talk.say("lot 1 20/72 rooted")
    talk.wait(minutes=20)
    talk.say("lot 2 60/72 rooted")
    assert "No verdict: they also differ in dates" in talk.say("is heel or tip better for coffeeberry")


def test_a_trial_is_dealt_by_a_recorded_seed_and_opens_no_lot(talk: Talk) -> None:
    told = talk.say("split 60 toyon: 30 heel, 30 tip")
    seed = re.search(r"seed (\d+)", told).group(1)  # type: ignore[union-attr]
    assert sum(map(int, re.findall(r"(\d+) heel", told))) == 30
    assert sum(map(int, re.findall(r"(\d+) tip", told))) == 30
    assert any(seed in str(row.get("text")) for row in talk.rows())
    assert talk.acts() == ["note"]


def test_the_same_message_deals_the_same_trays() -> None:
    from core.entries import Act, Entry
    from core.questions.comparing import deal

    asked = Entry(act=Act.SPLIT, plant="toyon", count=60)
    words = "split 60 toyon: 30 heel, 30 tip"
    assert deal(asked, words, "test:group:m1:") == deal(asked, words, "test:group:m1:")
    assert deal(asked, words, "test:group:m1:") != deal(asked, words, "test:group:m7:")


@pytest.mark.parametrize(
    ("asked", "figure"),
    [
        # C1 V1 = C2 V2: 3,000 / 10,000 of 500 ml is 150 ml.
        ("how much 3000 ppm from 1% concentrate for 500 ml", "150 ml"),
        # 1 % is 10,000 ppm, by definition of parts per million.
        ("how many ppm is 0.3%", "3,000 ppm"),
        # 48 four-inch pots to the cubic foot (potting chart, rileylab.org copy): 2.0 cu ft, with 15 % settling 2.3.
        ("how much mix for 96 4 in pots", "2.3 cu ft"),
        # 10.9 x 21.4 in trays on 36 x 96 in: 12 by packing, 14 by area (arithmetic).
        ("how many trays fit on a 3x8 ft bench", "12 trays"),
        # Tetens' formula: 22.2 C holds 2.68 kPa, 5 % of it short is 0.13 kPa.
        ("72F 95% under the dome", "0.13 kPa"),
    ],
)
def test_sums_of_the_bench(talk: Talk, asked: str, figure: str) -> None:
    assert figure in talk.say(asked)


def test_the_hormone_caution_comes_with_the_dip_once(talk: Talk) -> None:
    assert "gloves" in talk.say("how much 3000 ppm from 1% concentrate for 500 ml")
    talk.wait(minutes=30)
    assert "gloves" not in talk.say("how much 1000 ppm from 1% concentrate for 100 ml")


def test_seeds_rest_on_the_crews_own_lots(year: Talk) -> None:
    told = year.say("how much toyon seed for 60 plants")
    found = re.search(r"sow (\d+) seeds.*\. (\d+) would be a coin toss", told)
    assert found is not None, told
    seeds, coin = map(int, found.groups())
    # 60 / (110/200 x 0.9) is 121.2, so 122 by division.
    assert coin == 122 < seeds
    assert "110 of 200 came up" in told


def test_a_small_test_asks_for_more_seed_than_a_large_one(talk: Talk) -> None:
    def seeds(words: str) -> int:
        talk.wait(minutes=30)
        told = talk.say(words)
        return int(re.search(r"sow (\d+) seeds", told).group(1))  # type: ignore[union-attr]

    assert seeds("how much toyon seed for 60 plants, test was 11 of 20") > seeds(
        "how much toyon seed for 60 plants, test was 110 of 200"
    )


def test_mothers_are_weighed_by_what_they_gave(year: Talk) -> None:
    # 72^2 / (40^2 + 20^2 + 12^2) = 2.42 (inverse Simpson; Laakso and Taagepera 1979).
    told = year.say("how many mothers does coyote brush come from")
    assert "3 mothers" in told
    assert "2.4" in told
    assert "narrow" in told


def test_a_failing_lot_is_said_at_the_check_that_shows_it(year: Talk) -> None:
    year.now = year.now.replace(month=12, day=25)
    assert "looks to be failing" in year.say("lot 6: 0 rooted")


def test_an_early_look_at_a_few_is_no_alarm(talk: Talk) -> None:
    talk.say("stuck 72 toyon tips, tray 1")
    talk.wait(days=20)
    assert "failing" not in talk.say("lot 1 tugged 12, 0 rooted")


def test_heavy_losses_are_said_and_light_ones_are_not(talk: Talk) -> None:
    talk.say("stuck 72 toyon tips, tray 1")
    talk.wait(days=14)
    assert "Look at lot" not in talk.say("lot 1 lost 3 to rot")
    talk.wait(days=1)
    assert "Look at lot 26-001: 43 of 72 lost" in talk.say("lot 1 lost another 40 to rot")


def test_a_lot_nobody_counted_is_named_in_the_season(year: Talk) -> None:
    told = year.say("how did we do this year")
    assert "2026: 620 started in 7 lots of 4 plants" in told
    assert "lots never counted" in told
    assert "41 rot" in told


def test_a_question_with_no_plant_asks_for_one(talk: Talk) -> None:
    assert "Which plant" in talk.say("how many should i stick")


def test_a_lot_is_held_against_the_day_of_its_count_not_of_its_potting(year: Talk) -> None:
    # Counted on day 49, potted on day 69.
    assert "58 of 72 rooted on day 49" in year.say("is lot 2 failing")


def test_cells_are_counted_by_the_tray(talk: Talk) -> None:
    # 3 x 72 cells of 40 ml are 8.6 l, with 15 % settling 9.9 l (arithmetic on containers.toml).
    told = talk.say("how much mix for 3 72-cell trays")
    assert "216 cells (72 to the tray)" in told
    assert "(10 l)" in told


def test_how_to_and_looking_up_stay_what_they_were(year: Talk) -> None:
    assert "by our table" in year.say("how do i root coyote brush")
    year.wait(minutes=20)
    assert "No record" in year.say("did anyone water tray 2")
    year.wait(minutes=20)
    assert "bleach" in year.say("how much bleach for 3 gal at 1:9")
    year.wait(minutes=20)
    assert "lost 41 to rot" in year.say("what happened with lot 1")
