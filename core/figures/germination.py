"""How well and how fast did a seed lot come up: percent, days, speed, and whether the replicates agree.

Rules
1. A course of germination is the new seedlings at each look, in days since sowing, and the number of seeds sown.
2. A number that needs a seedling is None where none came up: no germination has no mean day.
3. Times are of what germinated only; percents are of all that was sown.
4. Two days that tie for the peak are both given.
Formulas as gathered in the germinationmetrics package's vignette 0.1.10, with the older names kept in the docstrings.
"""

from __future__ import annotations

import math
import tomllib
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from itertools import accumulate, pairwise
from typing import Final

from core.errors import BadTradeFile
from core.figures.measures import BadMeasure
from core.figures.trade_blocks import read_blocks

_FILE: Final = "germination.toml"
_TABLE_SEEDS: Final = 100


@dataclass(frozen=True, slots=True, kw_only=True)
class Course:
    """New seedlings (`counts`) at each look (`days` since sowing, rising) out of `sown`. Raises BadMeasure."""

    days: tuple[float, ...]
    counts: tuple[int, ...]
    sown: int

    def __post_init__(self) -> None:
        if len(self.days) != len(self.counts) or not self.days:
            raise BadMeasure(
                "a count is needed for each look", words=f"{len(self.days)} days, {len(self.counts)} counts"
            )
        if self.days[0] <= 0 or any(later <= earlier for earlier, later in pairwise(self.days)):
            raise BadMeasure("the days of the looks must rise from above nothing", words=str(self.days))
        if min(self.counts) < 0 or sum(self.counts) > self.sown:
            raise BadMeasure(f"{sum(self.counts)} of {self.sown} cannot have come up", words=str(self.counts))

    @classmethod
    def of_daily(cls, counts: Sequence[int], *, sown: int) -> Course:
        """The course of new seedlings counted on day 1, 2, 3 and so on."""
        return cls(days=tuple(float(day) for day in range(1, len(counts) + 1)), counts=tuple(counts), sown=sown)

    @classmethod
    def of_totals(cls, totals: Sequence[int], *, sown: int, days: Sequence[float] | None = None) -> Course:
        """The course of running totals, as most people count. Raises BadMeasure where a total falls."""
        new = tuple(later - earlier for earlier, later in pairwise((0, *totals)))
        looks = tuple(days) if days is not None else tuple(float(day) for day in range(1, len(new) + 1))
        return cls(days=looks, counts=new, sown=sown)

    @property
    def germinated(self) -> int:
        return sum(self.counts)

    @property
    def totals(self) -> tuple[int, ...]:
        return tuple(accumulate(self.counts))


@dataclass(frozen=True, slots=True, kw_only=True)
class MeanDay:
    """Mean germination time in days, with the variance (n - 1), standard error and coefficient of variation (a share).

    `variance` and what follows from it are None for a single seedling. `rate` is 1/mean per day, `velocity` is
    Kotowski's coefficient (100/mean).
    """

    days: float
    variance: float | None
    standard_error: float | None
    variation: float | None
    rate: float
    rate_variance: float | None
    rate_standard_error: float | None
    velocity: float


@dataclass(frozen=True, slots=True, kw_only=True)
class CourseSummary:
    """What a grower says of a seed lot: percent up, first, last and peak days, mean day, T50 and Maguire's speed."""

    percent: float
    first_day: float | None
    last_day: float | None
    peak_days: tuple[float, ...]
    peak_percent: float
    mean_day: MeanDay | None
    half_day: float | None
    speed: float

    @property
    def spread_days(self) -> float | None:
        """Days from the first to the last seedling."""
        return None if self.first_day is None or self.last_day is None else self.last_day - self.first_day

    @property
    def peak_is_tied(self) -> bool:
        return len(self.peak_days) > 1


def summarize(course: Course) -> CourseSummary:
    """The usual figures of one course; each is explained at the function of its own."""
    up = [day for day, count in zip(course.days, course.counts, strict=True) if count]
    most = max(course.counts)
    return CourseSummary(
        percent=germination_percent(course),
        first_day=up[0] if up else None,
        last_day=up[-1] if up else None,
        peak_days=tuple(day for day, count in zip(course.days, course.counts, strict=True) if most and count == most),
        peak_percent=100 * most / course.sown if course.sown else 0.0,
        mean_day=mean_day(course),
        half_day=half_day(course),
        speed=speed(course),
    )


def germination_percent(course: Course) -> float:
    """Percent of the sown seeds that came up (final germination percentage, ISTA). Nothing sown is nothing known: 0."""
    return 100 * course.germinated / course.sown if course.sown else 0.0


def mean_day(course: Course) -> MeanDay | None:
    """Mean germination time: sum(n t)/sum(n), days (Labouriau 1983; variance over n - 1, Ranal and Santana 2006)."""
    number = course.germinated
    if not number:
        return None
    pairs = list(zip(course.days, course.counts, strict=True))
    mean = sum(count * day for day, count in pairs) / number
    variance = sum(count * (day - mean) ** 2 for day, count in pairs) / (number - 1) if number > 1 else None
    rate_variance = None if variance is None else variance / mean**4
    return MeanDay(
        days=mean,
        variance=variance,
        standard_error=None if variance is None else math.sqrt(variance / number),
        variation=None if variance is None else math.sqrt(variance) / mean,
        rate=1 / mean,
        rate_variance=rate_variance,
        rate_standard_error=None if rate_variance is None else math.sqrt(rate_variance / number),
        velocity=100 / mean,
    )


def half_day(course: Course, *, farooq: bool = False) -> float | None:
    """T50: the day by which half of what germinated had germinated, straight between looks.

    Half is (N + 1)/2 after Coolbear and others 1984, or N/2 after Farooq and others 2005 with `farooq`.
    """
    if not course.germinated:
        return None
    half = course.germinated / 2 if farooq else (course.germinated + 1) / 2
    day_before, total_before = 0.0, 0
    for day, total in zip(course.days, course.totals, strict=True):
        if total >= half:
            return day_before + (half - total_before) * (day - day_before) / (total - total_before)
        day_before, total_before = day, total
    return course.days[-1]


def speed(course: Course, *, as_percent: bool = False) -> float:
    """Maguire's speed of germination 1962: sum of new seedlings / day; of percents instead with `as_percent`."""
    return _per_seed(
        sum(count / day for day, count in zip(course.days, course.counts, strict=True)), course, as_percent
    )


def accumulated_speed(course: Course, *, as_percent: bool = False) -> float:
    """Speed of accumulated germination (Bradbeer 1988): sum of running total / day; of percents with `as_percent`."""
    return _per_seed(
        sum(total / day for day, total in zip(course.days, course.totals, strict=True)), course, as_percent
    )


def corrected_speed(course: Course, *, accumulated: bool = False) -> float | None:
    """Maguire's (or the accumulated) speed over the number germinated (Evetts and Burnside 1972), per day."""
    if not course.germinated:
        return None
    return (accumulated_speed(course) if accumulated else speed(course)) / course.germinated


def weighted_percent(course: Course) -> float:
    """Weighted germination percentage (Reddy and others 1985): the early weigh more; looks are equal steps."""
    looks = len(course.counts)
    weight = sum(count * (looks - place) for place, count in enumerate(course.counts))
    return 100 * weight / (looks * course.sown) if course.sown else 0.0


def percent_per_look(course: Course) -> float:
    """Mean germination percentage per look (Czabator 1962 writes it per day): percent / number of looks."""
    return germination_percent(course) / len(course.counts)


def running_sum(course: Course, *, until: float | None = None) -> int:
    """George's index 1961: the sum of the running totals up to and with day `until`, seedlings."""
    return sum(total for day, total in zip(course.days, course.totals, strict=True) if until is None or day <= until)


def timson_sum(course: Course, *, until: float | None = None) -> float:
    """Timson's index 1965: the sum of the running percents up to and with day `until`, percent."""
    return 100 * running_sum(course, until=until) / course.sown if course.sown else 0.0


def timson_labouriau(course: Course, *, until: float | None = None) -> float | None:
    """Timson's sum over the seedlings up by then (Labouriau's form; Ranal and Santana 2006), looks."""
    up = sum(count for day, count in zip(course.days, course.counts, strict=True) if until is None or day <= until)
    return running_sum(course, until=until) / up if up else None


def timson_khan(course: Course, *, until: float | None = None) -> float:
    """Timson's sum of percents over the number of all looks (Khan and Ungar 1984), percent."""
    return timson_sum(course, until=until) / len(course.counts)


def melville_index(course: Course) -> float:
    """Germination index (Melville and others 1980): sum of (looks left after each seedling) over seeds sown."""
    return _looks_left(course) / course.sown if course.sown else 0.0


def santana_ranal_index(course: Course) -> float | None:
    """Germination index (Santana and Ranal 2004): Melville's sum over the number germinated."""
    return _looks_left(course) / course.germinated if course.germinated else None


def emergence_rate_index(course: Course) -> int:
    """Emergence rate index (Shmueli and Goldberg 1971): seedlings times the looks left after each."""
    return _looks_left(course)


def bilbro_wanjura_index(course: Course) -> float | None:
    """Emergence rate index (Bilbro and Wanjura 1982): number germinated / mean germination time, seedlings a day."""
    mean = mean_day(course)
    return None if mean is None else course.germinated / mean.days


def fakorede_index(course: Course) -> float | None:
    """Emergence rate index (Fakorede and Ayoola 1980): mean germination time over the share that came up, days."""
    mean = mean_day(course)
    return None if mean is None else mean.days * course.sown / course.germinated


def peak_value(course: Course) -> float:
    """Czabator's peak value 1962: the largest running percent / day."""
    if not course.sown:
        return 0.0
    return max(100 * total / course.sown / day for day, total in zip(course.days, course.totals, strict=True))


def czabator_value(course: Course) -> float:
    """Czabator's germination value 1962: peak value times mean daily germination (percent / last day)."""
    return peak_value(course) * germination_percent(course) / course.days[-1]


@dataclass(frozen=True, slots=True, kw_only=True)
class Tolerance:
    """One row of the published table: widest range (percent) between four or two 100-seed replicates."""

    average: int
    four: int
    two: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ReplicateCheck:
    """Whether replicates agree: their average and range in percent, the widest range allowed, and where it is from.

    `published` is False where the table has no such row and the range was reckoned from the binomial spread.
    """

    average_percent: float
    range_percent: float
    allowed_percent: float
    published: bool

    @property
    def agrees(self) -> bool:
        return self.range_percent <= self.allowed_percent


def check_replicates(germinated: Sequence[int], *, seeds_each: int = 100) -> ReplicateCheck:
    """Do the replicates of one test agree, or must it be repeated? Counts of equal replicates of `seeds_each` seeds.

    Two or four replicates of 100 go by 7 CFR 201.55 where it has the row; else the range is the 97.5 % point of the
    studentized range times the binomial spread, which gives that table within 1. Raises BadMeasure for fewer than two
    replicates or more seedlings than seeds.
    """
    if len(germinated) < 2 or seeds_each <= 0:
        raise BadMeasure("two replicates or more are needed", words=str(list(germinated)))
    if min(germinated) < 0 or max(germinated) > seeds_each:
        raise BadMeasure(f"no more than {seeds_each} can come up", words=str(list(germinated)))
    average = 100 * sum(germinated) / (len(germinated) * seeds_each)
    table, rejects = _tolerances()
    row = table.get(_round_half_up(max(average, 101 - average)))
    allowed: float | None = None
    if row is not None and seeds_each == _TABLE_SEEDS:
        allowed = {4: row.four, 2: row.two}.get(len(germinated))
    return ReplicateCheck(
        average_percent=average,
        range_percent=100 * (max(germinated) - min(germinated)) / seeds_each,
        allowed_percent=_reckoned_range(average, len(germinated), seeds_each, rejects) if allowed is None else allowed,
        published=allowed is not None,
    )


def _reckoned_range(average: float, replicates: int, seeds_each: int, rejects: float) -> float:
    from scipy.stats import norm, studentized_range

    if replicates == 2:
        width = float(norm.ppf(1 - rejects / 2)) * math.sqrt(2)
    else:
        width = float(studentized_range.ppf(1 - rejects, replicates, 1e5))
    return float(_round_half_up(width * math.sqrt(average * (100 - average) / seeds_each)))


@cache
def _tolerances() -> tuple[dict[int, Tolerance], float]:
    try:
        page = tomllib.loads(files("core.figures").joinpath(_FILE).read_text(encoding="utf-8"))
        rejects = float(page["rejects"])
    except (tomllib.TOMLDecodeError, KeyError, TypeError, ValueError) as wrong:
        raise BadTradeFile(f"{_FILE} cannot be read: {wrong}", hint="undo the last edit of that file") from wrong
    return {row.average: row for row in read_blocks(Tolerance, page.get("tolerance"), file=_FILE)}, rejects


def _looks_left(course: Course) -> int:
    return sum(count * (len(course.counts) - place) for place, count in enumerate(course.counts, start=1))


def _per_seed(total: float, course: Course, as_percent: bool) -> float:
    return 100 * total / course.sown if as_percent and course.sown else total


def _round_half_up(number: float) -> int:
    return math.floor(number + 0.5)
