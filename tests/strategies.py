"""Hypothesis strategies for workshop-sized and absurd pieces alike."""

from hypothesis import strategies as st

import rollcalc as rc

thicknesses = st.floats(0.05, 50)
widths = st.floats(1, 3000)
stocks = st.one_of(
    st.builds(rc.Sheet, thickness=thicknesses, width=widths),
    st.builds(rc.FlatBar, thicknesses, widths),
    st.builds(rc.RoundBar, thicknesses),
)
moduli = st.floats(40_000, 420_000)
ratios = st.floats(0.0, 0.45)
line_materials = st.builds(
    lambda modulus, ratio, strain, hardening: rc.Material(
        "line", modulus, ratio, modulus * strain, modulus * hardening
    ),
    moduli,
    ratios,
    st.floats(1e-4, 1e-2),
    st.floats(0.0, 0.2),
)
power_materials = st.builds(
    lambda modulus, ratio, strength, offset, exponent: rc.Material(
        "power", modulus, ratio, swift=rc.Swift(modulus * strength, offset, exponent)
    ),
    moduli,
    ratios,
    st.floats(1e-3, 1e-2),
    st.floats(1e-4, 0.05),
    st.floats(0.0, 0.6),
)
materials = st.one_of(line_materials, power_materials)
perfect_materials = st.builds(
    lambda modulus, ratio, strain: rc.Material("perfect", modulus, ratio, modulus * strain),
    moduli,
    ratios,
    st.floats(1e-4, 1e-2),
)
tightness = st.floats(1e-6, 0.999)
"""Loaded curvature as a share of the tightest a piece of this depth can take."""

not_numbers = st.sampled_from([None, True, "60", "60 mm", b"60", 1j, object(), [], [[1.0], [1.0, 2.0]], {"radius": 60}])
not_finite = st.sampled_from([float("nan"), float("inf"), float("-inf"), 10**400])
not_positive = st.one_of(st.just(0), st.just(-0.0), st.floats(max_value=0, allow_nan=False))
