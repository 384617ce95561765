"""How two rolls are made parallel, step by step."""

from dataclasses import dataclass

from rollcalc.stock.quantities import checked_single
from rollcalc.stock.record import Record


@dataclass(frozen=True, eq=False, repr=False)
class ZeroingStep(Record):
    """One step of making two rolls parallel.

    Parameters
    ----------
    words : str
        What to do.
    gap_left, gap_right : float
        How far the rolls then stand open at both ends, in turns of the screws. [turns]
    """

    words: str
    gap_left: float
    gap_right: float

    SHOWS = "words, gap_left [turns], gap_right [turns]"
    caption = "A step of zeroing the bending roll"


def zeroing_steps(gap_left: float = 0.75, gap_right: float = 0.25) -> tuple[ZeroingStep, ...]:
    """Return the steps that make two rolls parallel with a strip of the stock, with the gaps a picture draws.

    Parameters
    ----------
    gap_left, gap_right : float
        How far the rolls stand open to begin with, in turns of the screws. [turns]

    Returns
    -------
    steps : tuple of ZeroingStep
        The steps in order; after the last both ends are alike.

    Notes
    -----
    Snug at each end in turn, off by the same part of a turn, in by the same part. Validity: screws of one pitch.
    Source: common practice, no source.

    Examples
    --------
    >>> [(step.gap_left, step.gap_right) for step in zeroing_steps()]
    [(0.75, 0.25), (0.0, 0.25), (0.0, 0.0), (0.5, 0.5), (0.0, 0.0)]
    """
    left, right = (checked_single(f"gap on the {side}", gap, "turns", at_least=0, advice="give it in turns")
                   for side, gap in (("left", gap_left), ("right", gap_right)))
    return (
        ZeroingStep("Begin open. Lay two strips of the stock in the nip, one near each end.", left, right),
        ZeroingStep("Turn the left screw in until its strip just drags: snug, not tight.", 0.0, right),
        ZeroingStep("Turn the right screw in until its strip drags just as hard. Try the left strip again, and put it "
                    "right if it has changed.", 0.0, 0.0),
        ZeroingStep("Turn both screws off by the same half turn, and mark both knobs.", 0.5, 0.5),
        ZeroingStep("Turn both in by the same half turn to the marks. Both strips drag alike: these marks are zero.",
                    0.0, 0.0),
    )
