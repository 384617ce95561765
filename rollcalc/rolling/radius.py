"""Where to put the rolls for a radius, and which radius a setting gives."""

import math

import numpy as np

from rollcalc.bending.release import checked_radius, loaded_curvature
from rollcalc.stock.kinds import checked_word
from rollcalc.stock.materials import Material
from rollcalc.stock.quantities import FloatLike, InputError, checked, first_where, plain
from rollcalc.stock.sections import Stock

from .limits.reach import check_stock, check_travel
from .machine.grooves import machine_for
from .machine.kinds import Machine
from .setting import Setting
from .solver.batches import common_shape, in_blocks
from .solver.span import STEEPEST
from .solver.steady_state import Held, held, held_at_travel, previous_curvature

LOOSE_TILT = 0.5
"""Beyond this slope in the nip it is the pinch that fails, and not the reach of the bending roll. [rad]"""


def setting_for_radius(machine: Machine, stock: Stock, material: Material, released_radius: FloatLike | None = None, *,
                       inside_radius: FloatLike | None = None, inside_diameter: FloatLike | None = None,
                       entering_radius: FloatLike = math.inf, feed: str = "forward") -> Setting:
    r"""Return where the rolls go for a wanted radius.

    Parameters
    ----------
    machine, stock, material : Machine, Stock and Material
        The machine, the piece and its metal.
    released_radius : float or array, broadcastable with the other numbers, or None
        Wanted radius after release, to mid-thickness; give either this or one of the next two. [mm]
    inside_radius, inside_diameter : float or array, broadcastable with the other numbers, or None
        The same as a shop measures it, to the inside face. [mm]
    entering_radius : float or array, broadcastable with the other numbers
        Radius the stock already has from an earlier pass in the same direction; infinite for flat stock. [mm]
    feed : str
        "forward", or "return" for cranking back: much tighter, and unsure. One case, computed three ways, gave 93, 56
        and 50 mm, so take no number from it to a machine.

    Returns
    -------
    setting : Setting
        Travel, turns, radii, slopes and forces.

    Raises
    ------
    InputError
        If the stock does not fit, the radius cannot be reached, or rolls would overlap on the way.

    Notes
    -----
    Between the inside roll and an outer roll at slope θ the force is set by complementary energy,

    .. math:: F \sin \theta = \int \kappa\,dM

    and the shape follows by quadrature; the slopes are then what the rolls' places ask for. Validity: steady
    state (about two spans after the start), thin stock, stiff frame, no roll friction. The machine's own nip counts:
    with its pinch force given, within 3.5 % of continuum finite elements; but nobody knows the pinch or the yield so
    well, and published models of this kind keep within about 15 % of measured radii, so try it on a strip. A round bar
    lies in its groove. Give every later pass its ``entering_radius``: below a pyramid's top roll a second pass at the
    same travel may do nothing.
    Source: derived in rollcalc.rolling.solver.span; compared with scipy's solve_bvp and with a strip marched
    through the rolls in the tests.

    Examples
    --------
    >>> from rollcalc import DEMO_MACHINE, Sheet
    >>> steel = Material("mine", elastic_modulus=210_000, poisson_ratio=0.3, yield_strength=250)
    >>> setting = setting_for_radius(DEMO_MACHINE, Sheet(thickness=0.76, width=300), steel, released_radius=90)
    >>> round(setting.travel, 2), round(setting.loaded_radius, 1), round(setting.bending_roll_force)
    (20.48, 62.6, 333)
    """
    check_stock(machine, stock)
    machine = machine_for(machine, stock)
    wanted = _to_middle(stock, released_radius, inside_radius, inside_diameter)
    shape = common_shape(machine, stock, material, wanted, entering_radius)
    entering = _entering_curvature(machine, stock, entering_radius, feed)
    opened = np.asarray(1 / np.asarray(wanted) < np.asarray(entering) * (1 - 1e-12))
    if np.any(opened):
        number, least = first_where(opened, wanted, entering_radius)
        raise InputError(f"released radius is {number:.6g} mm, but must be at most {least:.6g} mm, as the stock "
                         "enters: rolling the same way never opens a curve.")
    setting, state = setting_and_state(machine, stock, material, wanted, shape, entering, feed)
    _check_held(machine, stock, state, wanted)
    check_travel(machine, stock, state.travel, "ask for a larger radius")
    return setting


def _to_middle(stock: Stock, released: FloatLike | None, radius: FloatLike | None,
               diameter: FloatLike | None) -> FloatLike:
    """Return the radius to mid-thickness from the one size that was given."""
    given = [way for way in (("released radius", released), ("inside radius", radius), ("inside diameter", diameter))
             if way[1] is not None]
    if len(given) != 1 and (radius is not None or diameter is not None):
        names = " and ".join(name for name, _ in given)
        raise InputError(f"sizes given are {names}, but must be exactly one of released radius, inside radius and "
                         "inside diameter: say to which face you measure.")
    if radius is None and diameter is None:
        return checked_radius(stock, "released radius", released)  # type: ignore[arg-type]
    name, size = given[0]
    inside = np.asarray(checked(name, size, "mm", above=0, advice="measure it across the hole"))
    return checked_radius(stock, name, plain(inside / (1 if diameter is None else 2) + np.asarray(stock.depth) / 2))


def setting_for_travel(machine: Machine, stock: Stock, material: Material, travel: FloatLike, *,
                       entering_radius: FloatLike = math.inf, feed: str = "forward") -> Setting:
    """Return what a travel gives.

    Parameters
    ----------
    machine, stock, material : Machine, Stock and Material
        The machine, the piece and its metal.
    travel : float or array, broadcastable with the other numbers
        Travel of the roll that moves, from touch. [mm]
    entering_radius : float or array, broadcastable with the other numbers
        As for `setting_for_radius`. [mm]
    feed : str
        As for `setting_for_radius`.

    Returns
    -------
    setting : Setting
        Travel, turns, radii, slopes and forces.

    Raises
    ------
    InputError
        If the stock does not fit, rolls would overlap on the way, or the sheet would wrap the inside roll.

    Notes
    -----
    The inverse of `setting_for_radius`, by a bracketed root in the loaded curvature. Validity: as there.
    Source: as `setting_for_radius`; tests hold the round trip to 1e-8.

    Examples
    --------
    >>> from rollcalc import DEMO_MACHINE, Sheet
    >>> steel = Material("mine", elastic_modulus=210_000, poisson_ratio=0.3, yield_strength=250)
    >>> sheet = Sheet(thickness=0.76, width=300)
    >>> round(setting_for_travel(DEMO_MACHINE, sheet, steel, travel=20.48).released_radius, 1)
    90.0
    """
    check_stock(machine, stock)
    machine = machine_for(machine, stock)
    moved = checked("travel", travel, "mm", at_least=0, advice="count it from touch")
    shape = common_shape(machine, stock, material, moved, entering_radius)
    entering = _entering_curvature(machine, stock, entering_radius, feed)
    check_travel(machine, stock, moved, "set less")
    state = in_blocks(held_at_travel, shape, machine, stock, material, moved, entering, feed)
    _check_reached(state, moved)
    return _setting(machine, stock, material, state._replace(travel=moved), shape, entering, feed)


def radius_for_travel(machine: Machine, stock: Stock, material: Material, travel: FloatLike, *,
                      entering_radius: FloatLike = math.inf, feed: str = "forward") -> FloatLike:
    """Return the released radius that a travel gives.

    Parameters
    ----------
    machine, stock, material : Machine, Stock and Material
        The machine, the piece and its metal.
    travel : float or array, broadcastable with the other numbers
        Travel of the roll that moves, from touch. [mm]
    entering_radius : float or array, broadcastable with the other numbers
        As for `setting_for_radius`. [mm]
    feed : str
        As for `setting_for_radius`.

    Returns
    -------
    radius : float or array, broadcast shape
        Radius after release, to mid-thickness; infinite where no set remains. [mm]

    Notes
    -----
    Validity: as `setting_for_radius`.
    Source: as `setting_for_radius`.

    Examples
    --------
    >>> from rollcalc import DEMO_MACHINE, Sheet
    >>> steel = Material("mine", elastic_modulus=210_000, poisson_ratio=0.3, yield_strength=250)
    >>> sheet = Sheet(thickness=0.76, width=300)
    >>> round(radius_for_travel(DEMO_MACHINE, sheet, steel, travel=15), 1)
    212.7
    >>> radius_for_travel(DEMO_MACHINE, sheet, steel, travel=2)
    inf
    """
    return setting_for_travel(machine, stock, material, travel, entering_radius=entering_radius,
                              feed=feed).released_radius


def setting_and_state(machine: Machine, stock: Stock, material: Material, wanted: FloatLike, shape: tuple[int, ...],
                      entering: FloatLike = 0.0, feed: str = "forward") -> tuple[Setting, Held]:
    """Return the setting for a radius whether the rolls reach it or not, and what they hold; infinite travel if not."""
    state = in_blocks(_held_released, shape, machine, stock, material, wanted, entering, feed)
    known = state._replace(released=1 / np.asarray(wanted))
    return _setting(machine, stock, material, known, shape, entering, feed), state


def _entering_curvature(machine: Machine, stock: Stock, entering_radius: FloatLike, feed: str) -> FloatLike:
    """Return the curvature the stock enters with, after looking at the feed as well."""
    checked_word("feed", feed, ("forward", "return"), advice="say which way you crank")
    if isinstance(entering_radius, float) and entering_radius == math.inf:
        return 0.0
    real = isinstance(entering_radius, np.ndarray) and not isinstance(entering_radius, np.ma.MaskedArray)
    if real and np.asarray(entering_radius).dtype.kind == "f":
        flat = np.isposinf(entering_radius)
        curved = checked_radius(stock, "entering radius", np.where(flat, 1e9, entering_radius))
        entering = np.where(flat, 0.0, 1 / np.asarray(curved))
    else:
        entering = 1 / np.asarray(checked_radius(stock, "entering radius", entering_radius))
    inside = machine.inside_roll_diameter / 2 + np.asarray(stock.depth) / 2
    too_tight = entering * inside >= 1 - 1e-9
    if np.any(too_tight):
        number, least = first_where(too_tight, 1 / entering, inside)
        raise InputError(f"entering radius is {number:.6g} mm, but must be above {least:.6g} mm: the inside roll "
                         "bend what is already as tight as the roll itself.")
    return plain(entering)


def _held_released(machine: Machine, stock: Stock, material: Material, wanted: FloatLike, entering: FloatLike,
                   feed: str) -> Held:
    """Return what the rolls hold for a wanted released radius."""
    loaded = loaded_curvature(stock, material, 1 / np.asarray(wanted))
    shape = common_shape(machine, stock, material, wanted, entering)
    previous = previous_curvature(stock, material, entering)
    return held(machine, stock, material, np.broadcast_to(loaded, shape), previous, feed)


def _check_held(machine: Machine, stock: Stock, state: Held, wanted: FloatLike) -> None:
    """Refuse curves that the rolls cannot hold."""
    inside = machine.inside_roll_diameter / 2 + np.asarray(stock.depth) / 2
    loaded = np.asarray(state.loaded)
    too_tight = loaded * inside > 1 + 1e-12
    if np.any(too_tight):
        number, needed, least = first_where(too_tight, wanted, 1 / loaded, inside)
        raise InputError(f"released radius is {number:.6g} mm, but must be larger: it needs a loaded radius of "
                         f"{needed:.6g} mm, and the inside roll allows none below {least:.6g} mm.")
    out_of_reach = ~np.isfinite(state.travel)
    if not np.any(out_of_reach):
        return
    number, front, tilt = first_where(out_of_reach, wanted, state.front_angle, state.tilt)
    loose = front >= STEEPEST - 1e-9 or tilt > LOOSE_TILT
    if machine.pinch_force is not None and loose:
        (force,) = first_where(out_of_reach, machine.pinch_force)
        raise InputError(f"pinch force is {force:.6g} N, but must be larger to hold the moment for a radius of "
                         f"{number:.6g} mm: pinch harder, or ask for a larger radius.")
    raise InputError(f"released radius is {number:.6g} mm, but must be larger: these rolls stand too far apart to "
                     "hold the curve it needs.")


def _check_reached(state: Held, travel: FloatLike) -> None:
    """Refuse a travel beyond the tightest curve that the rolls can hold."""
    beyond = np.abs(np.asarray(state.travel) - travel) > 1e-6 * (1 + np.abs(np.asarray(travel)))
    if np.any(beyond):
        number, most = first_where(beyond, travel, state.travel)
        raise InputError(f"travel is {number:.6g} mm, but must be at most {most:.6g} mm, where this stock lies against "
                         "the inside roll or would be driven too steeply: set less.")


def _setting(machine: Machine, stock: Stock, material: Material, state: Held, shape: tuple[int, ...],
             entering: FloatLike, feed: str) -> Setting:
    """Return the setting that reports a state."""
    state = Held(*map(float, state)) if shape == () else Held(*(np.broadcast_to(value, shape) for value in state))
    with np.errstate(divide="ignore"):
        released, loaded, entered = (plain(1 / np.asarray(value)) for value in (state.released, state.loaded, entering))
    return Setting(machine, stock, material, state.travel, released, loaded, state.bending_angle, state.front_angle,
                   state.tilt, state.bending_force, state.front_force, state.drive, entered, feed)
