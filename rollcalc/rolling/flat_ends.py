"""The lengths at both ends that do not get the full curve, and what can be done about them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from rollcalc.bending.law import fibre_law
from rollcalc.stock.materials import Material
from rollcalc.stock.quantities import FloatLike, plain
from rollcalc.stock.sections import Stock

from .hold import spans
from .machines import Machine
from .radius import setting_for_radius
from .setting import Setting
from .span import Span


@dataclass(frozen=True, eq=False)
class Remedy:
    """A way to deal with flat ends.

    Parameters
    ----------
    name : str
        What it is called.
    leading, trailing : float or array, shape (...)
        Lengths that stay flat at both ends of the finished piece. [mm]
    extra_length : float or array, shape (...)
        How much longer the blank is cut for it. [mm]
    words : str
        What to do, and for which seams.

    Raises
    ------
    None
        Built by `flat_ends`.

    Notes
    -----
    Validity: as `flat_ends`.

    Source: house definition.

    Examples
    --------
    >>> Remedy("leave and trim", 0.0, 0.0, 75.0, "Cut it longer.").extra_length
    75.0
    """

    name: str
    leading: FloatLike
    trailing: FloatLike
    extra_length: FloatLike
    words: str


@dataclass(frozen=True, eq=False)
class FlatEnds:
    """How much stays flat at both ends.

    Parameters
    ----------
    leading : float or array, shape (...)
        At the end that goes in first: along the stock from the inside roll to the bending roll. [mm]
    trailing : float or array, shape (...)
        At the end that goes in last: along the stock from the front roll to the inside roll. [mm]
    remedies : tuple of Remedy
        Leave and trim, turn end for end, bend the ends first.

    Raises
    ------
    None
        Built by `flat_ends`.

    Notes
    -----
    Validity: as `flat_ends`.

    Source: house definition.

    Examples
    --------
    >>> FlatEnds(leading=55.0, trailing=2.0, remedies=()).leading
    55.0
    """

    leading: FloatLike
    trailing: FloatLike
    remedies: tuple[Remedy, ...]


def flat_ends(machine: Machine, stock: Stock, material: Material, released_radius: FloatLike) -> FlatEnds:
    """Return the lengths at both ends that do not get the full curve.

    Parameters
    ----------
    machine : PinchMachine or PyramidMachine
        The machine.
    stock : Sheet, FlatBar or RoundBar
        The piece.
    material : Material
        The metal.
    released_radius : float or array, broadcastable with the stock's numbers
        Radius of the last pass after release, to mid-thickness. [mm]

    Returns
    -------
    ends : FlatEnds
        Both lengths, and the remedies with theirs.

    Raises
    ------
    InputError
        As `setting_for_radius`.

    Notes
    -----
    A point is bent fully when it passes the inside roll while both outer rolls press. The leading end passes it before
    it has met the bending roll, the trailing end after it has left the front roll. Passes before the last, fed the same
    way, change nothing. In a perfect nip the trailing length is nothing; a real one leaves a few millimetres. Validity:
    as `setting_for_radius`; the ends are not dead flat but bent less and less.

    Source: derived in rollcalc.rolling.span. A note on plate rolling has 6 to 20 thicknesses for machines with rolls in
    a triangle and 1/6 to 1/10 of that where the front rolls pinch (huangdaogangjiegou.com, news 407).

    Examples
    --------
    >>> from rollcalc.rolling.machines import DEMO_MACHINE
    >>> from rollcalc.stock import MATERIALS, Sheet
    >>> ends = flat_ends(DEMO_MACHINE, Sheet(0.76, 240), MATERIALS["low-carbon steel, cold rolled"], 90.4)
    >>> round(ends.leading, 1), ends.trailing
    (42.8, 0.0)
    """
    setting = setting_for_radius(machine, stock, material, released_radius)
    trailing, leading = span_lengths(setting)
    most, none = plain(np.maximum(leading, trailing)), plain(np.zeros(np.shape(leading)))
    remedies = (
        Remedy("leave and trim", none, none, plain(np.asarray(leading) + trailing),
               "Cut the blank longer by what stays flat, and trim that off: for butt and lap seams, not for folded "
               "ones."),
        Remedy("turn end for end", trailing, trailing, none,
               "Roll once from each end at the same setting, so that each end goes in last once."),
        Remedy("bend the ends first", none, none, none,
               f"Bend {np.max(most):.0f} mm at each end over a former of the loaded radius before rolling: for folded "
               "seams too, if the folds pass the nip."),
    )  # fmt: skip
    return FlatEnds(leading, trailing, remedies)


def span_lengths(setting: Setting) -> tuple[FloatLike, FloatLike]:
    r"""Return how long the stock is between the rolls, before and behind the inside roll.

    Parameters
    ----------
    setting : Setting
        A setting for flat stock fed forward.

    Returns
    -------
    lengths : tuple of two floats or arrays
        From front roll to inside roll, and from there to the bending roll. [mm]

    Raises
    ------
    None
        The setting has been checked.

    Notes
    -----
    .. math:: s = x S \int_0^1 \frac{dm}{\sqrt{1 - S^2\rho^2}}

    with the letters of rollcalc.rolling.span. Validity: as `Span`.

    Source: derived in rollcalc.rolling.span.

    Examples
    --------
    >>> from rollcalc.rolling import DEMO_MACHINE, setting_for_radius
    >>> from rollcalc.stock import Material, Sheet
    >>> steel = Material("mine", elastic_modulus=210_000, poisson_ratio=0.3, yield_strength=250)
    >>> span_lengths(setting_for_radius(DEMO_MACHINE, Sheet(0.76, 300), steel, 90))[0]
    0.0
    """
    law = fibre_law(setting.stock, setting.material)
    loaded, released = 1 / np.asarray(setting.loaded_radius), 1 / np.asarray(setting.released_radius)
    front, bending = spans(setting.machine, setting.stock, law, loaded, released, 0.0, "forward")
    before = np.zeros(np.shape(loaded)) if front is None else _length(front, setting.front_angle)
    return plain(before), plain(_length(bending, setting.contact_angle))


def _length(span: Span, angle: FloatLike) -> FloatLike:
    """Return the length along a span."""
    sine = np.sin(np.asarray(angle))
    return plain(span.lever * sine * (span.moments / np.sqrt(1 - (sine * span.energies) ** 2)).sum(axis=0))
