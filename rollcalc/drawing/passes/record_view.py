"""What a class's jobs found: a bar from low to high for each job, by metal for yield, by machine for pinch."""

from collections.abc import Sequence
from dataclasses import replace

from rollcalc.job import JobGroup, JobRecord, class_table
from rollcalc.job.records.class_table import UNITS, figures
from rollcalc.stock.quantities import InputError

from ..core.page import signed, ticks
from ..core.picture import Line, Mark, Picture, Text

MOST_BARS = 40
"""Bars that one picture holds; of more jobs the newest are drawn. [-]"""

WIDTH, LEFT, RIGHT = 640.0, 250.0, 480.0  # of the page within its margins; where the bars begin and end [px]
ROW, FOOT = 24.0, 50.0  # height of a line of words, and of the scale below [px]
LONGEST_LABEL, LONGEST_HEAD = 26, 48  # characters, as words are never measured


def yield_picture(records: Sequence[JobRecord]) -> Picture:
    """Return what each job found of the yield of its metal."""
    return _picture(records, class_table(records).yields, "yield", "metal")


def pinch_picture(records: Sequence[JobRecord]) -> Picture:
    """Return what each job found of the pinch of its machine."""
    return _picture(records, class_table(records).pinches, "pinch", "machine")


def _picture(records: Sequence[JobRecord], groups: tuple[JobGroup, ...], word: str, owner: str) -> Picture:
    """Return the bars, the jobs of one owner below its name, and the sentence with their numbers."""
    if not groups:
        raise InputError(f"none of the {len(records)} jobs found a {word}, but one at least must: measure a rise after "
                         "each pass, and keep what it tells.")
    unit, jobs = UNITS[groups[0].quantity], sum(group.jobs for group in groups)
    drawn = _newest(groups)
    low, high = min(group.low for group, _ in drawn), max(group.high for group, _ in drawn)
    room = 0.05 * (high - low) or 0.05 * high
    ends = (max(0.0, low - room), high + room)
    height = ROW * sum(group.jobs + 1.5 for group, _ in drawn) + FOOT
    marks: list[Mark] = [*_scale(ends, height, f"{word}, {unit}")]
    level = height
    for group, middle in drawn:
        place = _place(min(max(middle, low), high), ends)
        marks += [Text((0, level - ROW), f"{_cut(group.name, LONGEST_HEAD)}: middle {figures(middle)} {unit}"),
                  Line([(place, level - 1.3 * ROW), (place, level - (group.jobs + 1.3) * ROW)], "hidden")]
        for number, job in enumerate(group.records, start=2):
            marks += _bar(job, group.quantity, ends, level - number * ROW)
        level -= (group.jobs + 1.5) * ROW
    return Picture(_sentence(groups, jobs, sum(group.jobs for group, _ in drawn), word, owner), marks,
                   size=(int(WIDTH) + 80, int(height) + 80),
                   alt=f"What {jobs} {'job' if jobs == 1 else 'jobs'} found of the {word}, by {owner}",
                   frame=(0, 0, WIDTH, height))


def _newest(groups: tuple[JobGroup, ...]) -> list[tuple[JobGroup, float]]:
    """Return the groups with no more than the newest jobs, those of which any is left, and the middle of them all."""
    dates = sorted(((job.date, place, number) for place, group in enumerate(groups)
                    for number, job in enumerate(group.records)), reverse=True)[:MOST_BARS]
    kept = {(place, number) for _, place, number in dates}
    found = ((replace(group, records=tuple(job for number, job in enumerate(group.records) if (place, number) in kept)),
              group.middle) for place, group in enumerate(groups))
    return [one for one in found if one[0].records]


def _bar(job: JobRecord, quantity: str, ends: tuple[float, float], level: float) -> list[Mark]:
    """Return the range of one job with its ends and its mean, between its name and its numbers."""
    found = getattr(job, quantity)
    low, mean, high = (_place(value, ends) for value in (found.low, found.mean, found.high))
    return [
        Line([(low, level + 5), (high, level + 5)], "outline"),
        *(Line([(end, level), (end, level + 10)], "outline") for end in (low, high)),
        Line([(mean - 5, level + 5), (mean, level - 1), (mean + 5, level + 5), (mean, level + 11)], "sheet", True),
        Text((LEFT, level), _cut(f"{job.date} {job.part}", LONGEST_LABEL), "outline", "end", (-12, 0)),
        Text((RIGHT, level), f"{figures(found.mean)} ({figures(found.low)}–{figures(found.high)})", offset=(10, 0))]


def _scale(ends: tuple[float, float], height: float, words: str) -> list[Mark]:
    """Return the scale below the bars, with a thin line up from each figure."""
    values, decimals = ticks(*ends, about=4)
    marks: list[Mark] = [Line([(LEFT, FOOT), (RIGHT, FOOT)], "dimension")]
    for value in values:
        place = _place(value, ends)
        marks += [Line([(place, FOOT), (place, height - ROW)], "grid"),
                  Text((place, FOOT), signed(value, decimals), "dimension", "middle", (0, -18))]
    return [*marks, Text(((LEFT + RIGHT) / 2, FOOT), words, "outline", "middle", (0, -40))]


def _place(value: float, ends: tuple[float, float]) -> float:
    """Return where a value stands on the scale."""
    return LEFT + (RIGHT - LEFT) * (value - ends[0]) / (ends[1] - ends[0])


def _cut(words: str, longest: int) -> str:
    """Return words no longer than there is room for."""
    return words if len(words) <= longest else f"{words[: longest - 1].rstrip()}…"


def _sentence(groups: tuple[JobGroup, ...], jobs: int, drawn: int, word: str, owner: str) -> str:
    """Return what the bars say, group by group."""
    unit = UNITS[groups[0].quantity]
    each = "; ".join(f"{group.name}, {group.jobs} {'job' if group.jobs == 1 else 'jobs'}: {figures(group.middle)} "
                     f"{unit}, all from {figures(group.low)} to {figures(group.high)}" for group in groups)
    newest = f" The newest {drawn} of {jobs} are drawn." if drawn < jobs else ""
    return (f"The {word} that each job found, by {owner}, the middle one of the means first. {each}. A bar is the "
            f"range that holds 80 % of the belief, its diamond the mean; the dashed line is the middle.{newest}")
