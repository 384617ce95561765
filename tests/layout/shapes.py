"""Random frustums for the tests of layout."""

from __future__ import annotations

from hypothesis import strategies as st

from rollcalc.layout import FrustumPattern, frustum_pattern

SKIRT = frustum_pattern(large_diameter=220, small_diameter=160, height=100)
"""The lantern's skirt, a gentle cone."""
ROOF = frustum_pattern(large_diameter=220, small_diameter=60, height=80)
"""The lantern's roof, a steep one."""


@st.composite
def frustums(draw: st.DrawFn, least_ratio: float = 0.0, most_ratio: float = 1.0) -> FrustumPattern:
    """Return a frustum between a full cone and a cylinder."""
    large = draw(st.floats(20, 2000))
    ratios = st.floats(max(least_ratio, 0.001), most_ratio)
    small = large * draw(ratios if least_ratio else st.just(0.0) | ratios)
    height = large * draw(st.floats(0.05, 5))
    return frustum_pattern(large, small, height=height, pieces=draw(st.integers(1, 6)))
