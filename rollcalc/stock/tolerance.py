"""How far the thickness of bought sheet may lie from its nominal value."""

from functools import cache

import numpy as np
from numpy.typing import NDArray

from .lookup import table_rows
from .quantities import FloatLike, InputError, checked, plain


def thickness_tolerance(thickness: FloatLike, width: FloatLike = 1000.0) -> FloatLike:
    """Return the thickness tolerance of cold-rolled low-carbon sheet: it may be so much thicker or thinner.

    Parameters
    ----------
    thickness : float or array, shape (...)
        Nominal thickness. [mm]
    width : float or array, broadcastable with thickness
        Width the sheet was rolled in at the mill, not the width of your blank. [mm]

    Returns
    -------
    tolerance : float or array, broadcast shape
        Normal tolerance, plus or minus. [mm]

    Notes
    -----
    Validity: cold-rolled uncoated steel with a specified minimum yield below 260 MPa, such as DC01, from 0.35 to
    3 mm, normal (not special) tolerances. Other metals, coated and hot-rolled sheet have tables of their own.
    Source: EN 10131:2006, table 1, in two copies that agree; the original print was not opened.

    Examples
    --------
    >>> thickness_tolerance(0.76)
    0.04
    >>> thickness_tolerance(np.array([0.8, 0.9]), width=1300).tolist()
    [0.05, 0.06]
    """
    steps, tolerances = _tolerance_table()
    nominal = checked("thickness", thickness, "mm", at_least=float(steps[0]), at_most=float(steps[-1]),
                      advice="the table ends there, so give a tolerance of your own")
    mill_width = checked("width", width, "mm", above=0, advice="give the width the sheet was rolled in")
    row = np.maximum(np.searchsorted(steps, nominal, side="left") - 1, 0)  # shape of thickness
    column = np.searchsorted(_WIDTH_STEPS, mill_width, side="left")  # shape of width
    try:
        return plain(tolerances[row, column])
    except IndexError:
        raise InputError(f"thickness has shape {np.shape(nominal)} and width {np.shape(mill_width)}, but they must fit "
                         "together: give one width, or one for each thickness.") from None


_WIDTH_STEPS = (1200.0, 1500.0)
"""Widths up to and including which the first and second column hold. [mm]"""


@cache
def _tolerance_table() -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return the thickness steps [mm], shape (n + 1,), and the tolerances between them [mm], shape (n, 3)."""
    rows = table_rows("cold_rolled_thickness_tolerance.csv")
    steps = [rows[0]["thickness_above"], *(row["thickness_to"] for row in rows)]
    columns = ("width_to_1200", "width_to_1500", "width_above_1500")
    return np.array(steps, dtype=float), np.array([[row[column] for column in columns] for row in rows], dtype=float)
