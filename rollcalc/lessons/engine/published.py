"""Published numbers that rollcalc is held to: the lessons show them, the tests check them, from this one table.

Every record says where its numbers stood and how we know them:

* ``seen``: the number stood in a stored copy of the page or book companion named;
* ``memory``: recalled, the print was not found;
* ``derived``: arithmetic of ours from the numbers above, by the formula in the note.

"Companion" is the FOSSEE (IIT Bombay) Python Textbook Companion of the book, an open collection that
gives each example's inputs, answer, number and page. The answers were read there; none of its code is used.
Where a book leaves something out (half the thickness, plane strain) the note says so, and the test follows
the book's assumption: the library is never bent to match a book.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from math import pi
from types import MappingProxyType
from typing import Literal

MM_PER_INCH = 25.4
N_PER_LBF = 4.4482216152605
MPA_PER_PSI = N_PER_LBF / MM_PER_INCH**2
N_MM_PER_KIP_INCH = 1000 * N_PER_LBF * MM_PER_INCH

HOUSE_UNITS: Mapping[str, float] = MappingProxyType({
    "": 1.0,
    "mm": 1.0, "m": 1000.0, "in": MM_PER_INCH, "ft": 12 * MM_PER_INCH,
    "1/in": 1 / MM_PER_INCH, "in^4": MM_PER_INCH**4,
    "MPa": 1.0, "GPa": 1000.0, "psi": MPA_PER_PSI, "ksi": 1000 * MPA_PER_PSI,
    "N m": 1000.0, "kN m": 1e6, "kip in": N_MM_PER_KIP_INCH,
})
"""What one unit of a book is in mm, N and MPa."""

Mark = Literal["seen", "memory", "derived"]


@dataclass(frozen=True)
class Given:
    """A number a published example starts from, as printed."""

    value: float
    unit: str  # a key of HOUSE_UNITS

    @property
    def house(self) -> float:
        """The number in mm, N and MPa. [any]"""
        return self.value * HOUSE_UNITS[self.unit]

    def __str__(self) -> str:
        return f"{self.value:g} {self.unit}".strip()


@dataclass(frozen=True)
class Answer(Given):
    """A published answer, and how near we must come to it."""

    tolerance: float = 0.001  # largest share of the answer we may differ by
    mark: Mark = "seen"  # how we know the number
    reason: str = ""  # why the tolerance is wider than the last printed digit, where it is

    def accepts(self, computed: float) -> bool:
        """Return whether a number in mm, N and MPa is near enough to the published one."""
        return abs(computed - self.house) <= self.tolerance * abs(self.house)

    def beside(self, computed: float) -> str:
        """Return both numbers in the book's unit, such as ``published 0.531 in, computed 0.5306 in``."""
        ours = f"{computed / HOUSE_UNITS[self.unit]:.4g} {self.unit}".strip()
        return f"published {self}, computed {ours}"


@dataclass(frozen=True)
class Published:
    """One published example."""

    id: str  # as the tests and lessons quote it
    title: str
    source: str  # author, book or page, and place in it
    inputs: Mapping[str, Given] = field(hash=False)
    answers: Mapping[str, Answer] = field(hash=False)
    note: str = ""  # the book's assumptions where they differ from ours, and the formula of a derived number

    def given(self, name: str) -> float:
        """Return an input in mm, N and MPa. [any]"""
        return self.inputs[name].house


BEER = "Beer, Johnston, DeWolf, Mechanics of Materials"
KALPAKJIAN = "Kalpakjian and Schmid, Manufacturing Processes for Engineering Materials"
CUBIC = f"{KALPAKJIAN}: R_i/R_f = 4 x^3 - 3 x + 1, x = R_i Y/(E t); seen with exercise 7.79 in an open course file"
SHEET_20_GAUGE = {"thickness": Given(0.0359, "in"),
                  "yield_strength": Given(40_000, "psi"), "elastic_modulus": Given(29e6, "psi")}
BAR_50_120 = {"width": Given(50, "mm"), "thickness": Given(120, "mm"), "moment": Given(36.8, "kN m"),
              "yield_strength": Given(240, "MPa"), "elastic_modulus": Given(200, "GPa")}
I_BEAM = {"flange_width": Given(12, "in"), "flange_thickness": Given(1, "in"), "depth": Given(16, "in"),
          "web_thickness": Given(0.75, "in"), "yield_strength": Given(50, "ksi"), "elastic_modulus": Given(29e6, "psi")}
BOOK_CUBIC = (
    "The book calls the inside radius R, leaves out half the thickness, and bends in uniaxial stress. The test puts "
    "its R straight into a flat bar, and then asks the sheet, to mid-thickness and in plane strain, to come within 1 %."
)

_RECORDS = (
    Published(
        "S1", "Springback of a 20 gauge sheet",
        f"{KALPAKJIAN}, springback example (from memory, the print was not found)",
        SHEET_20_GAUGE | {"loaded_radius": Given(0.5, "in")},
        {"released_radius": Answer(0.531, "in", 0.001, "memory"),
         "released_radius_unrounded": Answer(0.53056, "in", 1e-5, "derived")},
        BOOK_CUBIC,
    ),
    Published(
        "S2", "Springback ratio, yield far behind", CUBIC, {"x": Given(0.0, "")},
        {"ratio": Answer(1.0, "", 1e-6, "seen", "x = 0 needs a metal without strength, so the test comes near it")},
        "Limit of the cubic. The whole cubic is tested between S2 and S3.",
    ),
    Published("S3", "Springback ratio, outer fibre just yields", CUBIC, {"x": Given(0.5, "")},
              {"ratio": Answer(0.0, "")}, "The piece springs back flat."),
    Published(
        "B1", "A steel bar bent past yield", f"{BEER}, Example 4.05, p. 260 (companion)", BAR_50_120,
        {"yield_moment": Answer(28.8, "kN m", 1e-6), "elastic_core": Answer(80.0, "mm", 1e-6),
         "loaded_radius": Answer(33.33, "m", 0.0002)},
    ),
    Published(
        "B2", "The same bar let go", f"{BEER}, Example 4.06, p. 262 (companion)", BAR_50_120,
        {"stress_removed_at_surface": Answer(306.7, "MPa", 0.0002),
         "residual_stress_at_surface": Answer(66.7, "MPa", 0.001, "derived"),
         "residual_stress_at_40_mm": Answer(-35.5, "MPa", 0.002, "seen",
                                            "the book rounds 204.4 to 204.5 before it subtracts"),
         "released_radius": Answer(225, "m", 1e-6)},
        "The book's bar bends the other way: its +y is our −height. 66.7 = 306.7 − 240. Curvature goes from 0.0300 to "
        "0.00444 per metre: 85 % springs back.",
    ),
    Published(
        "B3", "An I-beam with its flanges fully yielded", f"{BEER}, Sample Problem 4.5, p. 263 (companion)", I_BEAM,
        {"second_moment": Answer(1524, "in^4", 0.0005),
         "yield_moment": Answer(9525, "kip in", 0.0005, "seen", "the book rounds the second moment first"),
         "radius_at_first_yield": Answer(4640, "in", 1e-6),
         "moment": Answer(10_230, "kip in", 0.0006, "seen", "the book rounds to four figures"),
         "radius_flanges_yielded": Answer(338, "ft", 0.002, "seen", "printed to three figures")},
        "Outer rectangle less the two openings beside the web, all at one curvature: moments and stiffnesses subtract.",
    ),
    Published(
        "B4", "The I-beam let go", f"{BEER}, Sample Problem 4.7, p. 265 (companion)", I_BEAM,
        {"stress_removed_at_8_in": Answer(53.7, "ksi", 0.001),
         "residual_stress_at_7_in": Answer(-3.01, "ksi", 0.01, "seen", "a small difference of rounded numbers"),
         "released_radius": Answer(5620, "ft", 0.005, "seen",
                                   "a small difference of two curvatures, which makes the rounding of moment and "
                                   "second moment 16 times larger")},
        "As B3. The book's beam bends the other way: its +y is our −height.",
    ),
    Published(
        "B7", "Full plastic moment over first-yield moment", "any strength text (from memory); exact by integration",
        {},
        {"rectangle": Answer(1.5, "", 1e-12, "memory"), "round": Answer(16 / (3 * pi), "", 1e-12, "memory")},
    ),
    Published(
        "H1", "A bar whose metal hardens along a straight line",
        "Hibbeler, Mechanics of Materials, Example 6.24, p. 344 (companion)",
        {"width": Given(2, "in"), "thickness": Given(3, "in"),
         "yield_strength": Given(150, "ksi"), "yield_strain": Given(0.01, ""),
         "end_stress": Given(190, "ksi"), "end_strain": Given(0.05, "")},
        {"moment": Answer(772, "kip in", 0.001), "loaded_curvature": Answer(0.03333, "1/in", 0.0002, "derived"),
         "elastic_core_half": Answer(0.3, "in", 1e-6, "derived"),
         "released_radius": Answer(45.66, "in", 0.0002, "derived")},
        "The book's second line is stress against total strain, slope E_t = 40/0.04 = 1000 ksi. Ours is stress against "
        "plastic strain: H = E E_t/(E - E_t) = 1071 ksi with E = 15 000 ksi. Released: 1/R_f = k - M/(E I).",
    ),
    Published(
        "E1", "A steel wire wound on a drum", "Gere, Mechanics of Materials, Example 5.2, p. 315 (companion)",
        {"diameter": Given(4, "mm"), "drum_radius": Given(0.5, "m"),
         "elastic_modulus": Given(200, "GPa"), "proportional_limit": Given(1200, "MPa")},
        {"moment": Answer(5.01, "N m"), "stress": Answer(796.8, "MPa"), "released_curvature": Answer(0.0, "")},
        "The wire's middle runs at the drum's radius and half the wire's. No set may remain.",
    ),
    Published(
        "E2", "A plate bent to ten metres", "Bansal, Strength of Materials, Problem 7.1, p. 298 (companion)",
        {"width": Given(120, "mm"), "thickness": Given(20, "mm"), "radius": Given(10, "m"),
         "elastic_modulus": Given(200, "GPa")},
        {"stress": Answer(200, "MPa", 1e-9), "moment": Answer(1.6, "kN m", 1e-9),
         "released_curvature": Answer(0.0, "")},
        "The book bends it as a beam, so the test uses a flat bar; as a sheet, held in width, stress and moment are "
        "1/(1 - ν²) larger. The book gives no yield strength; the test takes one above the stress.",
    ),
    Published(
        "N2", "An iron hoop by its mean diameter",
        "An old engineer's pocket book, Google Books mzoDAAAAQAAJ, RA1-PA55",
        {"outside_diameter": Given(16.5, "in"), "thickness": Given(0.875, "in")},
        {"mean_diameter": Answer(15.625, "in", 1e-9),
         "length": Answer(49.0, "in", 0.0025, "seen", "the book gives 4 feet 1 inch, in whole inches")},
        "15.625 π is 49.09 in, at an inside radius of 8.4 thicknesses: a rolled ring keeps the length of its middle.",
    ),
    Published(
        "R5", "Plane-strain factor of a power-law sheet",
        "Gajjar, Gandhi, Jafri, Raval, WASET Int. J. 1(8), 2007, first page: K' = (2/sqrt 3)^(n+1) K",
        {"strength": Given(600, "MPa"), "exponent": Given(0.21, "")},
        {"yield_factor": Answer(1.1547, "", 2e-5, "derived"),
         "plane_strain_strength": Answer(714.1, "MPa", 1e-4, "derived")},
        "K and n of low-carbon steel: Callister (seen). The root sign is lost in the page's text; the exponent is "
        "there.",
    ),
    Published(
        "SC", "Scatter of the 20 gauge sheet at ten times the radius", f"{CUBIC}; inputs of S1 (from memory)",
        SHEET_20_GAUGE | {"loaded_radius": Given(5, "in"), "yield_change": Given(0.10, ""),
                          "thickness_change": Given(0.05, "")},
        {"released_radius": Answer(11.061, "in", 1e-4, "derived"),
         "yield_high": Answer(12.382, "in", 1e-4, "derived"), "yield_low": Answer(9.960, "in", 1e-4, "derived"),
         "thickness_low": Answer(11.725, "in", 1e-4, "derived"),
         "thickness_high": Answer(10.512, "in", 1e-4, "derived")},
        "The cubic at x = 0.1921, as the book uses it: R straight into a flat bar. At 0.5 in the same changes move the "
        "released radius by less than 1 %.",
    ),
    Published(
        "G20", "20 gauge is four thicknesses",
        "steel, stainless, aluminium: Machinery's Handbook, 31st ed., Table 20, p. 1453; galvanized: pounds per square "
        "foot over 41.82",
        {"gauge": Given(20, "")},
        {"steel": Answer(0.0359, "in"), "stainless": Answer(0.0375, "in"),
         "galvanized": Answer(0.0396, "in", 0.001, "derived"), "aluminium": Answer(0.0320, "in", 0.0015)},
        "A gauge number means nothing until the metal is named.",
    ),
)

PUBLISHED: Mapping[str, Published] = MappingProxyType({record.id: record for record in _RECORDS})
"""Every published example by its id."""
