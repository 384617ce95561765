"""What to know besides the numbers of a plan of passes."""

from __future__ import annotations

import math

from rollcalc.stock.quantities import InputError

from .radius import radius_for_travel
from .setting import Setting


def leftover_words(turns: float, step_turns: float, reached: float, wanted: float) -> str:
    """Return what whole steps of the screws leave over.

    Parameters
    ----------
    turns : float
        Turns of the last pass. [turns]
    step_turns : float
        Smallest part of a turn that is dialled. [turns]
    reached : float
        Radius to expect after the last pass. [mm]
    wanted : float
        Radius that is wanted. [mm]

    Returns
    -------
    words : str
        One sentence.

    Raises
    ------
    None
        Any numbers will do.

    Notes
    -----
    Validity: as `pass_schedule`.

    Source: house style, no published source.

    Examples
    --------
    >>> leftover_words(11.625, 0.125, 91.2, 90.4)
    'The last setting, 11.625 turns, gives 91.2 mm where 90.4 mm is wanted; measure before the next 0.125 turn.'
    """
    said = "no lasting curve" if math.isinf(reached) else f"{reached:.4g} mm"
    return (f"The last setting, {turns:g} turns, gives {said} where {wanted:.4g} mm is wanted; measure before the next "
            f"{step_turns:g} turn.")  # fmt: skip


def too_tight_words(measured: float, wanted: float) -> str:
    """Return what to do with a piece that is too tight.

    Parameters
    ----------
    measured : float
        Radius that came out. [mm]
    wanted : float
        Radius that is wanted. [mm]

    Returns
    -------
    words : str
        Sentences.

    Raises
    ------
    None
        Any numbers will do.

    Notes
    -----
    Validity: any machine.

    Source: common practice, no source.

    Examples
    --------
    >>> too_tight_words(80, 90).startswith("Too tight: 80 mm came out and 90 mm is wanted.")
    True
    """
    return (f"Too tight: {measured:.4g} mm came out and {wanted:.4g} mm is wanted. Turning the screws back does not "
            "open a ring. Open it by hand, a little at a time all round, over a round former larger than the ring, "
            "and measure; or use it where a smaller ring fits. Next time stop earlier.")  # fmt: skip


def gentle_words() -> str:
    """Return how to come near a radius.

    Returns
    -------
    words : str
        Sentences.

    Raises
    ------
    None
        Nothing can go wrong.

    Notes
    -----
    Validity: any machine.

    Source: common practice, no source.

    Examples
    --------
    >>> gentle_words().startswith("Same turns")
    True
    """
    return ("Same turns on both ends, and the same feed each time. Do not turn the screws while the stock stands still "
            "in the rolls: it leaves a kink. Come from the flat side: turning back does not open a ring. Stop if you "
            "struggle.")  # fmt: skip


def done_words(reading: float) -> str:
    """Return that a piece is as wanted.

    Parameters
    ----------
    reading : float
        How well the rise is read. [mm]

    Returns
    -------
    words : str
        One sentence.

    Raises
    ------
    None
        Any number will do.

    Notes
    -----
    Validity: any machine.

    Source: house style, no published source.

    Examples
    --------
    >>> done_words(0.1)
    'Done: the radius is as wanted, as far as a rise read to 0.1 mm tells.'
    """
    return f"Done: the radius is as wanted, as far as a rise read to {reading:g} mm tells."


def touch_words(shift: float) -> str:
    """Return where touch lies after a measurement.

    Parameters
    ----------
    shift : float
        How many turns later than counted on; below zero for earlier. [turns]

    Returns
    -------
    words : str
        One sentence.

    Raises
    ------
    None
        Any number will do.

    Notes
    -----
    Validity: as `replanned`.

    Source: house style, no published source.

    Examples
    --------
    >>> touch_words(-0.25)
    'By this measurement touch lies 0.25 turns earlier than counted on.'
    """
    way = "later" if shift > 0 else "earlier"
    return f"By this measurement touch lies {abs(shift):.2f} turns {way} than counted on."


def return_words(setting: Setting, step_turns: float) -> str:
    """Return the warning of what one more step does when it is cranked back instead of fed forward.

    Parameters
    ----------
    setting : Setting
        The last setting of a plan.
    step_turns : float
        How much further the screws are turned before cranking back. [turns]

    Returns
    -------
    words : str
        Sentences, with the radii the model gives where it has them.

    Raises
    ------
    None
        Where the model has no answer, the warning has no number.

    Notes
    -----
    At one setting cranking back changes nothing; the roll must be further up. Computed, not measured; a stiff nip shows
    it most, real ones less. Validity: as `setting_for_travel`.

    Source: derived in rollcalc.rolling.hold.

    Examples
    --------
    >>> from rollcalc.rolling import DEMO_MACHINE, setting_for_radius
    >>> from rollcalc.stock import Material, Sheet
    >>> steel = Material("mine", elastic_modulus=210_000, poisson_ratio=0.3, yield_strength=250)
    >>> return_words(setting_for_radius(DEMO_MACHINE, Sheet(0.76, 300), steel, 200), 0.125)[:76]
    'Cranking back with the screws 0.125 turns further up may bend the stock much'
    """
    said = f"Cranking back with the screws {step_turns:g} turns further up may bend the stock much tighter"
    travel = float(setting.travel) + step_turns * setting.machine.screw_pitch
    try:
        forward, back = (
            float(radius_for_travel(setting.machine, setting.stock, setting.material, travel,
                                    entering_radius=setting.released_radius, feed=feed))
            for feed in ("forward", "return")
        )  # fmt: skip
        said += (f": by the model to {back:.3g} mm, where feeding forward gives {forward:.3g} mm (computed, not "
                 "measured)")  # fmt: skip
    except InputError:  # a step further the rolls meet, or the stock lies against the roll: no number to give
        pass
    return f"{said}. Take it out forward, or lower the roll first, and try it on scrap."
