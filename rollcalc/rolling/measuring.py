"""Measuring a curve with a straight edge: chord, rise and radius."""

import numpy as np

from rollcalc.stock.quantities import FloatLike, InputError, check_shapes, checked, first_where, plain


def radius_from_chord(chord: FloatLike, rise: FloatLike) -> FloatLike:
    """Return the radius of a curve from a chord across it and the rise above the chord.

    Parameters
    ----------
    chord, rise : float or array, shape (...)
        Straight line between two points of the curve, and height of the curve over its middle. [mm]

    Returns
    -------
    radius : float or array, broadcast shape
        Radius of the surface that was measured. [mm]

    Notes
    -----
    R = c²/(8h) + h/2. Add half the thickness to a radius measured inside, take it off one measured outside.
    Validity: the curve between the two points is one arc.
    Source: geometry; Gere, Mechanics of Materials, Example 5.1 checks it.

    Examples
    --------
    >>> radius_from_chord(chord=12, rise=2)
    10.0
    """
    straight, height = _chord_and_rise(chord, rise)
    return plain(straight**2 / (8 * height) + height / 2)


def radius_error_from_chord(chord: FloatLike, rise: FloatLike, rise_error: FloatLike,
                            chord_error: FloatLike = 0.0) -> FloatLike:
    """Return how far a radius may be off when chord and rise are read with an error.

    Parameters
    ----------
    chord, rise, rise_error, chord_error : float or array, shapes that broadcast
        As for `radius_from_chord`; how far rise and chord may be off, either way. [mm]

    Returns
    -------
    error : float or array, broadcast shape
        How far the radius may be off, either way. [mm]

    Notes
    -----
    ΔR = |1/2 − c²/(8h²)| Δh + c/(4h) Δc. A short chord on a large radius has a small rise, and is hopeless.
    Validity: errors small against the rise.
    Source: derivative of `radius_from_chord`.

    Examples
    --------
    >>> round(radius_error_from_chord(chord=100, rise=8.579, rise_error=0.1), 2)
    1.65
    """
    straight, height = _chord_and_rise(chord, rise)
    by_rise = checked("rise error", rise_error, "mm", at_least=0, advice="give the plus-or-minus of your reading")
    by_chord = checked("chord error", chord_error, "mm", at_least=0, advice="give the plus-or-minus of your reading")
    check_shapes("chord, rise and their errors", straight, height, by_rise, by_chord)
    return plain(np.abs(0.5 - straight**2 / (8 * height**2)) * by_rise + straight / (4 * height) * by_chord)


def rise_of_chord(radius: FloatLike, chord: FloatLike) -> FloatLike:
    """Return the rise to expect over a chord of a curve.

    Parameters
    ----------
    radius, chord : float or array, shapes that broadcast
        Radius of the surface that is measured, infinite for a flat piece; straight line between two points of it. [mm]

    Returns
    -------
    rise : float or array, broadcast shape
        Height of the curve over the middle of the chord. [mm]

    Notes
    -----
    h = R − √(R² − c²/4), written so that large radii lose no digits. Validity: less than half a circle.
    Source: geometry; inverse of `radius_from_chord`.

    Examples
    --------
    >>> rise_of_chord(radius=10, chord=12)
    2.0
    """
    real = type(radius) in (float, np.float64) or (type(radius) is np.ndarray and radius.dtype.kind == "f")
    flat = np.isposinf(radius) if real else np.False_
    sizes = np.where(flat, 1.0, radius) if np.any(flat) else radius
    curved = np.asarray(checked("radius", sizes, "mm", above=0, advice="measure again"))
    straight = np.asarray(checked("chord", chord, "mm", above=0, advice="give the straight line across the curve"))
    check_shapes("radius and chord", curved, straight)
    too_long = np.logical_not(flat) & (straight > 2 * curved)
    if np.any(too_long):
        number, most = first_where(too_long, straight, 2 * curved)
        raise InputError(f"chord is {number:.6g} mm, but must be at most {most:.6g} mm, the diameter: "
                         "take a shorter one.")
    half = np.where(flat, 0.0, straight / 2)
    return plain(half**2 / (curved + np.sqrt(np.maximum(curved**2 - half**2, 0.0))))


def _chord_and_rise(chord: FloatLike, rise: FloatLike) -> tuple[FloatLike, FloatLike]:
    """Return chord and rise, checked."""
    straight = checked("chord", chord, "mm", above=0, advice="measure the straight line across the curve")
    height = checked("rise", rise, "mm", above=0, advice="measure the height over the middle of the chord")
    check_shapes("chord and rise", straight, height)
    return straight, height
