"""What a class's jobs say together: the yield of each metal, the pinch of each machine."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median

from rollcalc.stock.record import Record, Shown

from .record import JobRecord, checked_records

UNITS = {"yield_strength": "MPa", "pinch_force": "N"}
"""What jobs find -> its unit."""


@dataclass(frozen=True, eq=False, repr=False)
class JobGroup(Record):
    """The jobs that found something of one metal, or of one machine.

    Parameters
    ----------
    name : str
        What the metal or the machine is called.
    quantity : str
        What was found: "yield_strength" or "pinch_force".
    records : tuple of JobRecord
        The jobs, by their dates.
    """

    name: str
    quantity: str
    records: tuple[JobRecord, ...]

    SHOWS = "name, jobs [-], low [any], middle [any], high [any]"
    caption = "Jobs that go together"

    @property
    def jobs(self) -> int:
        """How many there are. [-]"""
        return len(self.records)

    @property
    def middle(self) -> float:
        """The middle one of their means, in the unit of what was found. [any]"""
        return float(median(getattr(one, self.quantity).mean for one in self.records))

    @property
    def low(self) -> float:
        """Lowest end of their ranges. [any]"""
        return float(min(getattr(one, self.quantity).low for one in self.records))

    @property
    def high(self) -> float:
        """Highest end of their ranges. [any]"""
        return float(max(getattr(one, self.quantity).high for one in self.records))


@dataclass(frozen=True, eq=False, repr=False)
class ClassTable(Record):
    """What a class's jobs found, by metal and by machine.

    Parameters
    ----------
    jobs : int
        How many jobs there are, those that found nothing counted too. [-]
    yields, pinches : tuple of JobGroup
        The yield of each metal, and the pinch of each machine, by their names.
    """

    jobs: int
    yields: tuple[JobGroup, ...]
    pinches: tuple[JobGroup, ...]

    @property
    def caption(self) -> str:
        """What this is, in a line."""
        return f"What {self.jobs} {'job' if self.jobs == 1 else 'jobs'} found"

    def shown(self) -> Shown:
        """Return a row for each metal and each machine."""
        rows = tuple(
            (f"{word} {group.name}", f"{group.jobs}",
             *(f"{figures(value)} {UNITS[group.quantity]}" for value in (group.low, group.middle, group.high)))
            for word, groups in (("yield of", self.yields), ("pinch of", self.pinches)) for group in groups)
        if not rows:
            return Shown(self.caption, (), notes=("No job found a yield or a pinch.",))
        return Shown(self.caption, rows, ("", "jobs", "low", "middle", "high"),
                     ("Low and high are the ends of all the jobs' 80 % ranges, middle is the middle one of their "
                      "means.",))


def class_table(records: Sequence[JobRecord]) -> ClassTable:
    """Return what a class's jobs found: the yield of each metal, the pinch of each machine.

    Parameters
    ----------
    records : sequence of JobRecord
        The jobs, as `load_records` gives them.

    Returns
    -------
    table : ClassTable
        Shows itself as a table.

    Notes
    -----
    Jobs go together where the names of metal or machine are the same letter by letter. Means are not averaged, as two
    sheets sold under one name are two metals, and two evenings' hands two pinches. Validity: as good as each job's own
    belief.
    Source: common practice, no source.

    Examples
    --------
    >>> from rollcalc import Sheet
    >>> from rollcalc.job import Believed, JobRecord
    >>> body = JobRecord(date="2026-11-27", part="lantern body", machine="bench roll", stock=Sheet(thickness=0.76,
    ...                  width=240), metal="cold-rolled steel", wanted_radius=90.4,
    ...                  yield_strength=Believed(mean=230, low=205, high=255))
    >>> class_table([body])
    What 1 job found
                                  jobs  low      middle   high
      yield of cold-rolled steel  1     205 MPa  230 MPa  255 MPa
    Low and high are the ends of all the jobs' 80 % ranges, middle is the middle one of their means.
    """
    jobs = checked_records(records)
    return ClassTable(len(jobs), _groups(jobs, "metal", "yield_strength"), _groups(jobs, "machine", "pinch_force"))


def figures(value: float) -> str:
    """Return what was found with three figures, as it is not known better."""
    return f"{float(f'{value:.3g}'):.7g}"


def _groups(jobs: tuple[JobRecord, ...], by: str, quantity: str) -> tuple[JobGroup, ...]:
    """Return the jobs that found something, those of one name together."""
    found = sorted((one for one in jobs if getattr(one, quantity) is not None), key=lambda one: one.date)
    names = sorted({getattr(one, by) for one in found})
    return tuple(JobGroup(name, quantity, tuple(one for one in found if getattr(one, by) == name)) for name in names)
