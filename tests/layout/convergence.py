"""Command: print how the triangulated oblique frustum comes closer as it is divided finer.

python -m tests.layout.convergence
"""

from __future__ import annotations

import numpy as np

from rollcalc.layout import oblique_frustum_pattern

SIZES = {"large_diameter": 220.0, "small_diameter": 160.0, "height": 100.0, "offset": 40.0}
PARTS = (12, 24, 48, 96, 192, 384)


def true_area(points: int = 2000) -> float:
    """Return the area by integrating over the elements around, which is exact to rounding for a smooth side.

    A point of the side is (1 − v) large + v small; the area element is the cross product of its derivatives,
    which is linear in v, so that v integrates to its middle.
    """
    large, small = SIZES["large_diameter"] / 2, SIZES["small_diameter"] / 2
    around = np.arange(points) * 2 * np.pi / points
    along = np.stack([-np.sin(around), np.cos(around), 0 * around], axis=1) * (large + small) / 2
    element = np.stack([np.cos(around) * (small - large) + SIZES["offset"], np.sin(around) * (small - large),
                        np.full(points, SIZES["height"])], axis=1)
    return float(np.linalg.norm(np.cross(along, element), axis=1).mean() * 2 * np.pi)


def table() -> list[tuple[int, float, float, float]]:
    """Return (parts, area, error as a share, order against the row before)."""
    exact, rows, before = true_area(), [], np.nan
    for parts in PARTS:
        area = oblique_frustum_pattern(**SIZES, segments=parts).area
        error = 1 - area / exact
        rows.append((parts, area, error, float(np.log2(before / error))))
        before = error
    return rows


def main() -> None:
    """Print the table."""
    print(f"{'parts':>6}  {'area mm²':>12}  {'short by':>10}  {'order':>6}   true area {true_area():.3f} mm²")
    for parts, area, error, order in table():
        print(f"{parts:>6}  {area:>12.3f}  {error:>10.2e}  {order:>6.3f}")


if __name__ == "__main__":
    main()
