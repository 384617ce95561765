"""Sheet gauges: one number, a different thickness in each metal."""

from collections.abc import Mapping
from functools import cache
from typing import Any

import numpy as np

from .lookup import one_spelling, table_rows, unknown_name
from .quantities import InputError, checked_single, shown

MM_PER_INCH = 25.4
"""Exact by definition of the inch. [mm]"""

_TABLE_OF = {"steel": "steel", "stainless": "stainless", "galvanized": "galvanized",
             "aluminium": "aluminium", "brass": "aluminium", "copper": "aluminium"}
"""Metal -> the gauge table it is sold by."""


def gauge_thickness(gauge: int, metal: str) -> float:
    """Return the thickness of sheet of a gauge.

    Parameters
    ----------
    gauge : int
        Gauge number, whole. [-]
    metal : str
        "steel", "stainless", "galvanized", or "aluminium", "brass" or "copper", which share a table.

    Returns
    -------
    thickness : float
        Nominal thickness; of galvanized sheet with its zinc. [mm]

    Notes
    -----
    Nominal values: the sheet itself differs by several percent, so measure it. Validity: steel 3 to 28,
    stainless 3 to 30, galvanized 8 to 28, aluminium, brass and copper 3 to 36 gauge.
    Source: Manufacturers' Standard, 15 U.S.C. 206, Galvanized and Brown & Sharpe gauges; the table file names
    the copies they were read from and the print slips mended.

    Examples
    --------
    >>> for metal in ("steel", "stainless", "galvanized", "aluminium"):
    ...     print(metal, round(gauge_thickness(20, metal), 2))
    steel 0.91
    stainless 0.95
    galvanized 1.01
    aluminium 0.81
    """
    table = _gauge_table(metal)
    if not isinstance(gauge, int | np.integer) or int(gauge) not in table:
        raise InputError(f"gauge is {shown(gauge)}, but must be a whole number from {min(table)} to {max(table)} "
                         f"for {metal.strip().lower()}: measure the sheet and give its thickness instead.")
    return table[int(gauge)]


def nearest_gauge(thickness: float, metal: str) -> tuple[int, float]:
    """Return the gauge whose thickness is nearest, and that thickness.

    Parameters
    ----------
    thickness : float
        Thickness of the sheet. [mm]
    metal : str
        Metal, named as for `gauge_thickness`.

    Returns
    -------
    gauge : int
        Gauge number. [-]
    gauge_thickness : float
        Nominal thickness of that gauge. [mm]

    Notes
    -----
    For labels: metric sheet is not made to a gauge. Validity: as for `gauge_thickness`.
    Source: as for `gauge_thickness`.

    Examples
    --------
    >>> gauge, nominal = nearest_gauge(0.76, "steel")
    >>> gauge, round(nominal, 3)
    (22, 0.759)
    """
    table = _gauge_table(metal)
    number = checked_single("thickness", thickness, "mm", at_least=0.95 * min(table.values()),
                            at_most=1.05 * max(table.values()),
                            advice="outside the table there is no gauge to name, so keep to mm")
    gauge = min(table, key=lambda each: abs(table[each] - number))
    return gauge, table[gauge]


def _gauge_table(metal: Any) -> Mapping[int, float]:
    """Return gauge -> thickness [mm] of the table a metal is sold by."""
    name = one_spelling(metal).removesuffix(" steel") if isinstance(metal, str) else ""
    if name not in _TABLE_OF:
        raise unknown_name("gauge table for", metal, _TABLE_OF)
    return _gauge_tables()[_TABLE_OF[name]]


@cache
def _gauge_tables() -> dict[str, dict[int, float]]:
    """Return table name -> gauge -> thickness [mm]."""
    tables: dict[str, dict[int, float]] = {}
    for row in table_rows("sheet_gauges.csv"):
        tables.setdefault(row["metal"], {})[int(row["gauge"])] = round(float(row["inch"]) * MM_PER_INCH, 9)
    return tables
