"""What to know besides the numbers of a plan of passes."""

import math

from ..effort import SHORT_TIME_CEILING

GENTLE = ("Same turns on both ends, and the same feed each time. Do not turn the screws while the stock stands still "
          "in the rolls: it leaves a kink. Come from the flat side: turning back does not open a ring. If the crank "
          "does not go round easily, stop.")
"""How to come near a radius."""

BACK = ("Cranking back with the screws further up bends much tighter, how much nobody can say. Take the piece out "
        "forward, or lower the roll first, and try it on scrap.")
"""The warning of cranking back, for which nobody has a number: one case, computed three ways, gave 93, 56 and 50 mm,
as the nip decides, and the models do not agree on it."""

CURVED = ("Each pass is worked out for the curve it enters with: a curved plate hangs lower between the bottom "
          "rolls, so the same drop again does little or nothing.")
"""What a curved plate does between two bottom rolls."""


def leftover_words(turns: float, step_turns: float, reached: float, wanted: float, further: float) -> str:
    """Return what whole steps of the screws leave over, and what one more step would make of it."""
    said = "no lasting curve" if math.isinf(reached) else f"{reached:.4g} mm"
    more = f", which would leave about {further:.4g} mm" if math.isfinite(further) else ""
    return (f"The last setting, {turns:g} turns, gives {said} where {wanted:.4g} mm is wanted; measure before the next "
            f"{step_turns:g} turn{more}.")


def too_tight_words(measured: float, wanted: float) -> str:
    """Return what to do with a piece that is too tight."""
    return (f"Too tight: {measured:.4g} mm came out and {wanted:.4g} mm is wanted. Turning the screws back does not "
            "open a ring. Open it by hand, a little at a time all round, over a round former larger than the ring, "
            "and measure; or use it where a smaller ring fits. Next time stop earlier.")


def done_words(reading: float) -> str:
    """Return that a piece is as wanted."""
    return f"Done: the radius is as wanted, as far as a rise read to {reading:g} mm tells."


def touch_words(shift: float) -> str:
    """Return where touch lies after a measurement."""
    way = "later" if shift > 0 else "earlier"
    return f"By this measurement touch lies {abs(shift):.2f} turns {way} than counted on."


def crank_words(number: int, crank: float, least: float, limit: float) -> str:
    """Return the warning of a pass that asks more of the crank than a person keeps up, and what helps."""
    short = "" if crank <= SHORT_TIME_CEILING else f", and than the {SHORT_TIME_CEILING:.0f} N of a short time"
    helps = ("grease the bearings and pinch no harder than the stock needs" if crank - least > crank / 2
             else "take the stock narrower or thinner, or a heavier machine")
    return (f"Pass {number} asks {crank:.0f} N of the crank with its friction, more than the {limit:.0f} N that are "
            f"planned for{short}: {helps}; change over often, and never lengthen the crank.")
