"""A named check: what is asked, what there is, and a sentence about it; and the verdict over many."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rollcalc.stock.quantities import FloatLike, InputError, plain, shown
from rollcalc.stock.record import Record, Shown

WITHIN, AT, BEYOND = "within the machine's rating", "close to the machine's rating", "beyond the machine's rating"
"""The three words of a verdict."""

LAST_WORD = "The plate and the instructor have the last word; if the crank does not go round easily, stop."
"""How every verdict ends."""

_ROUNDING = 1 + 1e-9


@dataclass(frozen=True, eq=False, repr=False)
class Check(Record):
    """One question to the machine.

    Parameters
    ----------
    name, asks, advice : str
        What is checked; the start of the sentence, up to its two numbers; what to do where the limit is passed.
    demand, limit : float or array, shape (...)
        What the job asks for, and what the machine, or the person, has. [unit]
    unit : str
        Unit of both.
    hard_demand : float or array, broadcastable with demand
        Demand with the hardest metal sold under this name. [unit]
    counts : int
        Worst that it makes of a verdict: 2 "beyond", 1 "close to the machine's rating", 0 nothing, as it only says
        how the result suffers. [-]

    Notes
    -----
    Validity: as the check that is made.

    Examples
    --------
    >>> check = Check("nip opening", 2.0, 3.0, "mm", "the stock", "take thinner stock", hard_demand=2.0)
    >>> round(check.ratio, 2), check.message
    (0.67, 'nip opening 2 of 3 mm (67 %), the stock.')
    """

    name: str
    demand: FloatLike
    limit: FloatLike
    unit: str
    asks: str
    advice: str
    hard_demand: FloatLike
    counts: int = 2

    @property
    def caption(self) -> str:
        """What this is, in a line."""
        return self.name

    def shown(self) -> Shown:
        """Return demand, limit and share."""
        return Shown(self.name, (self.row,), ("check", "demand", "limit", "share"), (self.message,), (self.share,))

    @property
    def share(self) -> float:
        """Demand over limit of the worst case. [-]"""
        return float(np.max(self.ratio))

    @property
    def row(self) -> tuple[str, ...]:
        """Name, demand, limit and share of the worst case, in words."""
        demand, limit, *_ = self._worst()
        ends = ("out of reach" if np.isinf(demand) else f"{_short(demand)} {self.unit}".strip(),
                "none" if np.isinf(limit) else f"{_short(limit)} {self.unit}".strip())
        name = self.name if self.counts else f"{self.name} (only compared)"
        return (name, *ends, "—" if np.isinf(self.share) else f"{100 * self.share:.0f} %")

    @property
    def ratio(self) -> FloatLike:
        """Demand over limit; above 1 the limit is passed, and infinite where the demand is out of reach. [-]"""
        demand, limit = np.broadcast_arrays(np.asarray(self.demand, float), np.asarray(self.limit, float))
        reachable = np.isfinite(demand) & (limit > 0)
        return plain(np.divide(demand, limit, out=np.full(demand.shape, np.inf), where=reachable))

    @property
    def exceeded(self) -> FloatLike:
        """0 where the demand is within the limit, 1 where only the hardest metal is not, 2 where it is above. [-]"""
        most = _ROUNDING * np.asarray(self.limit)
        over, maybe = (~np.isfinite(demand) | (np.asarray(demand) > most) for demand in (self.demand, self.hard_demand))
        return plain(np.where(over, 2.0, np.where(maybe, 1.0, 0.0)))

    @property
    def message(self) -> str:
        """One sentence with the numbers, of the worst case where there are many, and what to do."""
        *numbers, ratio, step = self._worst()
        demand, limit, high = (f"{_short(number)} {self.unit}".strip() for number in numbers)
        said = f"{self.name} {demand.removesuffix(self.unit).strip()} of {limit} ({100 * ratio:.0f} %), {self.asks}"
        if np.isinf(ratio) and np.all(np.isfinite(self.demand)):  # against nothing at all
            return f"{self.name} {demand}, {self.asks}; too much: {self.advice}."
        if np.isinf(ratio):
            return (f"{self.name}: out of reach, as no travel holds this curve: ask for a larger radius or, where the "
                    "pinch gives way, pinch harder.")
        if np.isinf(numbers[1]):
            said = f"{self.name} {demand}, {self.asks}, and nothing here sets a limit"
        if step and not self.counts:
            hard = f", or {high} if the metal is as hard as it may be" if step == 1 else ""
            return f"{said}{hard}; {self.advice}."
        if step == 2:
            return f"{said}; too much: {self.advice}."
        if step == 1:
            return f"{said}, but {high} if the metal is as hard as it may be: ask, or {self.advice}."
        return f"{said}."

    def _worst(self) -> list[float]:
        """Return demand, limit, demand with the hardest metal, ratio and what is exceeded in the worst case."""
        cases = np.broadcast_arrays(self.demand, self.limit, self.hard_demand, self.ratio, self.exceeded)
        worst = int(np.argmax(cases[3]))
        return [float(case.flat[worst]) for case in cases]


def fixed_check(name: str, demand: FloatLike, limit: FloatLike, unit: str, asks: str, advice: str,
                counts: int = 2) -> Check:
    """Return a check whose demand is the same however hard the metal is."""
    return Check(name, demand, limit, unit, asks, advice, demand, counts)


def named_check(checks: tuple[Check, ...], name: str) -> Check:
    """Return the check of that name."""
    for check in checks:
        if check.name == name:
            return check
    raise InputError(f"there is no check {shown(name)}: there are {', '.join(check.name for check in checks)}.")


def standing(checks: tuple[Check, ...], complete: bool) -> str | NDArray[np.str_]:
    """Return the word of the verdict over some checks, for every case; it never says that there is no danger."""
    worst: FloatLike = 0.0 if complete else 1.0
    for check in checks:
        worst = np.maximum(worst, np.minimum(check.exceeded, check.counts))
    words = np.array([WITHIN, AT, BEYOND])[np.asarray(worst, int)]
    return str(words) if words.ndim == 0 else words


def _short(number: float) -> str:
    """Return a number with three digits, and no power of ten where it has more before the point."""
    return f"{number:.0f}" if 1000 <= abs(number) < 1e9 else f"{number:.3g}"
