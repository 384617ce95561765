"""One word for one thing: the words of the trade, and the names the library gives to quantities.

A test holds every public signature to this table, so a quantity has the same name and the same
unit wherever it is met.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from html import escape


@dataclass(frozen=True)
class Entry:
    """A word, and what it stands for.

    Parameters
    ----------
    name : str
        Its name in code; empty for a word of the trade that no function asks for.
    words : str
        Its name in the shop.
    symbol : str
        Its letter in formulas; empty where it has none.
    unit : str
        Its unit, ``-`` for a plain number; empty for a thing that is not a number.
    meaning : str
        What it is, in one sentence.
    """

    name: str
    words: str
    symbol: str
    unit: str
    meaning: str


@dataclass(frozen=True)
class Table:
    """A small table that a notebook shows as one and a terminal as lines of text.

    Parameters
    ----------
    caption : str
        What the table holds.
    heads : tuple of str
        The heading of each column; one of them is ``symbol``.
    rows : tuple of tuple of str
        The cells; the first of each row is what the row is about.
    """

    caption: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]

    def __repr__(self) -> str:
        widths = [max(map(len, column)) for column in zip(self.heads, *self.rows, strict=True)]
        lines = ["  ".join(map(str.ljust, row, widths)).rstrip() for row in (self.heads, *self.rows)]
        return "\n".join((self.caption, *lines))

    def _repr_html_(self) -> str:
        heads = "".join(f'<th scope="col" style="text-align:left">{escape(head)}</th>' for head in self.heads)
        rows = "\n".join(f"<tr>{_row(row, self.heads.index('symbol'))}</tr>" for row in self.rows)
        caption = f"<caption>{escape(self.caption)}</caption>"
        return f"<table>{caption}\n<thead><tr>{heads}</tr></thead>\n<tbody>{rows}</tbody></table>"


TRADE = (
    Entry("", "nip, pinch rolls", "", "", "The two driven front rolls, and the line where they grip the sheet."),
    Entry("", "upper roll, lower roll", "", "", "The two front rolls; the sheet curls around the upper one."),
    Entry("", "bending roll", "", "", "The adjustable rear roll that sets the curve."),
    Entry("", "guide", "", "", "The line along which the bending roll moves when the screws turn."),
    Entry("", "crank side", "", "", "The side where the crank is; a side view looks from there."),
    Entry("", "travel", "", "mm", "How far the bending roll has moved from where it just touches the flat sheet."),
    Entry("", "turns", "", "turns", "Travel as turns of the screws: travel divided by the pitch of the screw."),
    Entry("", "loaded", "κ", "1/mm", "While the rolls hold the piece."),
    Entry("", "released", "κ_r", "1/mm", "After the piece has left the rolls and sprung back."),
    Entry("", "springback", "κ − κ_r", "1/mm", "How much curvature is lost on release; the radius grows."),
    Entry("", "curvature", "κ", "1/mm", "One over the radius; a flat sheet has curvature zero."),
    Entry("", "yield", "σ_y", "MPa", "The stress at which metal stops springing back completely."),
    Entry(
        "",
        "mid-thickness",
        "",
        "",
        "Half way through the sheet; a radius is measured to it unless its name says otherwise.",
    ),
    Entry("", "moment", "M", "N mm", "The turning effect that bends the piece: force times distance."),
    Entry("", "blank", "", "", "The flat piece that is cut before rolling."),
    Entry("", "flat end", "", "mm", "The length at an edge that does not get the full curve."),
    Entry("", "pass", "", "", "One feed through the rolls at one setting."),
    Entry(
        "",
        "chord and rise",
        "c, h",
        "mm",
        "How a radius is measured: a straight line across the curve, and the height above it.",
    ),
    Entry("", "frustum", "", "", "A cone with its point cut off."),
)
"""Words of the trade, in the order a lesson meets them."""

QUANTITIES = (
    Entry("stock", "stock", "", "", "What goes through the rolls: a sheet, a flat bar or a round bar."),
    Entry("thickness", "thickness", "t", "mm", "Size of a sheet or flat bar in the direction it is bent."),
    Entry("width", "width", "w", "mm", "Size of a sheet or flat bar along the rolls."),
    Entry("diameter", "bar diameter", "d", "mm", "Diameter of a round bar."),
    Entry("length", "length", "", "mm", "Any length that is written out for the shop."),
    Entry("gauge", "gauge", "", "-", "Number that stands for a thickness; each metal has its own list."),
    Entry("metal", "metal of a gauge", "", "", "Whose list a gauge is read from."),
    Entry("thickness_tolerance", "thickness tolerance", "Δt", "mm", "How far the thickness may be off, either way."),
    Entry("material", "material", "", "", "The metal: its stiffness, its yield and how it hardens."),
    Entry("name", "name", "", "", "What a metal is called."),
    Entry(
        "elastic_modulus", "elastic modulus", "E", "MPa", "Stress per strain while the metal still springs back fully."
    ),
    Entry("poisson_ratio", "Poisson's ratio", "ν", "-", "How much metal narrows for each part it stretches."),
    Entry("yield_strength", "yield strength", "σ_y", "MPa", "Stress at which the metal starts to keep a set."),
    Entry("yield_range", "yield range", "", "MPa", "Lowest and highest yield strength sold under one name."),
    Entry("hardening_modulus", "hardening modulus", "H", "MPa", "How much stress rises per part of lasting stretch."),
    Entry("swift", "power law", "", "", "A curved hardening law, instead of a straight line."),
    Entry("strength", "strength coefficient", "K", "MPa", "Height of the power law of hardening."),
    Entry("offset", "strain offset", "ε₀", "-", "Strain that gives the power law a yield point."),
    Entry("exponent", "hardening exponent", "n", "-", "How steeply the power law rises."),
    Entry("density", "density", "ρ", "kg/mm³", "Mass of a cubic millimetre."),
    Entry("source", "source", "", "", "Where a metal's numbers come from."),
    Entry("loaded_curvature", "loaded curvature", "κ", "1/mm", "Curvature while the rolls hold the piece."),
    Entry("released_curvature", "released curvature", "κ_r", "1/mm", "Curvature that stays after release."),
    Entry("loaded_radius", "loaded radius", "R", "mm", "Radius while the rolls hold the piece."),
    Entry("released_radius", "released radius", "R_r", "mm", "Radius that stays after release."),
    Entry("height", "height", "y", "mm", "Distance from mid-thickness, positive towards the outside of the bend."),
    Entry("machine", "machine", "", "", "The three rolls: how big they are, where they stand, how they move."),
    Entry("path", "path", "", "", "Where a machine file lies; nothing for the nearest one."),
    Entry("upper_roll_diameter", "upper roll", "", "mm", "Diameter of the front roll that the sheet curls around."),
    Entry("lower_roll_diameter", "lower roll", "", "mm", "Diameter of the front roll under the sheet."),
    Entry("bending_roll_diameter", "bending roll", "", "mm", "Diameter of the rear roll that sets the curve."),
    Entry("top_roll_diameter", "top roll", "", "mm", "Diameter of a pyramid machine's roll that comes down."),
    Entry("bottom_roll_diameter", "bottom rolls", "", "mm", "Diameter of a pyramid machine's two lower rolls."),
    Entry("bottom_roll_spacing", "spacing", "a", "mm", "From axle to axle of a pyramid machine's bottom rolls."),
    Entry("guide_distance", "guide distance", "g", "mm", "From the nip back to the bending roll's axle at touch."),
    Entry("guide_angle_degrees", "guide angle", "a", "deg", "How the bending roll rises: 90 is straight up."),
    Entry("screw_pitch", "screw pitch", "p", "mm", "Travel for one turn of the screws."),
    Entry("working_width", "working width", "", "mm", "Length of the rolls that can bend."),
    Entry("nip_slack", "slack of the nip", "s", "mm", "How much wider than the stock the nip is set."),
    Entry("pinch_force", "pinch force", "N", "N", "Force with which the front rolls grip the stock."),
    Entry("nip_opening", "nip opening", "", "mm", "Thickest stock the nip lets in."),
    Entry("max_travel", "longest travel", "", "mm", "Travel at which the screws or the frame stop."),
    Entry("rated_thickness", "rated thickness", "", "mm", "Thickness on the machine's plate, over its whole width."),
    Entry("rated_material", "rated metal", "", "", "Metal on the machine's plate."),
    Entry("groove_diameters", "grooves", "", "mm", "Round bars that the grooves of the rolls take."),
    Entry("groove_depths", "depths of grooves", "", "mm", "How deep the grooves of the rolls are."),
    Entry("groove_positions", "places of grooves", "", "mm", "From the middle of the rolls to each groove."),
    Entry("grooved_rolls", "grooved rolls", "", "", "Which rolls have the grooves."),
    Entry("bearing_span", "bearing span", "L", "mm", "From bearing to bearing along a roll."),
    Entry("journal_diameter", "journal", "", "mm", "Diameter of a roll where it turns in its bearings."),
    Entry("roll_modulus", "modulus of the rolls", "", "MPa", "Elastic modulus of the metal of the rolls."),
    Entry("bearing_friction", "bearing friction", "μ", "-", "Friction in the bearings of the rolls."),
    Entry("grip_friction", "grip friction", "", "-", "Friction between rolls and stock."),
    Entry("crank_limit", "crank limit", "", "N", "Most force that the people who crank shall need."),
    Entry("crank_radius", "crank radius", "", "mm", "From the axle of the crank to its grip."),
    Entry("gear_ratio", "gearing", "", "-", "Turns of the crank for one turn of the driven rolls."),
    Entry("travel", "travel", "T", "mm", "How far the roll that moves has come from touching the flat sheet."),
    Entry("radius", "radius", "R", "mm", "Any radius to mid-thickness that is neither loaded nor released."),
    Entry("entering_radius", "entering radius", "", "mm", "Radius the piece already has when it enters the rolls."),
    Entry("feed", "feed", "", "", "Which way the crank turns: forward, or return."),
    Entry("setting", "setting", "", "", "Where the rolls stand, and what they do to the piece."),
    Entry("contact_angle", "contact angle", "θ_c", "rad", "Slope of the sheet from the inside to the bending roll."),
    Entry("front_angle", "front angle", "", "rad", "Slope of the sheet from the front to the inside roll."),
    Entry("tilt", "tilt", "φ", "rad", "Slope of the sheet where it leaves the nip."),
    Entry("bending_roll_force", "bending-roll force", "F", "N", "Force between the piece and the bending roll."),
    Entry("front_roll_force", "front-roll force", "", "N", "Force between the piece and the lower front roll."),
    Entry("drive_force", "drive force", "", "N", "Force along the sheet that the driven rolls must supply."),
    Entry("x", "along", "x", "mm", "Place in the side view, in the feed direction from the nip."),
    Entry("y", "up", "y", "mm", "Place in the side view, upwards from the sheet's middle in the nip."),
    Entry("slope", "slope", "θ", "rad", "Direction of the sheet in the side view."),
    Entry("curvature", "curvature", "κ", "1/mm", "One over the radius, at a place along the sheet."),
    Entry("moment", "moment", "M", "N mm", "The turning effect that bends the piece, over its whole width."),
    Entry("points", "points", "", "-", "How many places a curve is worked out at."),
    Entry("low", "low", "", "mm", "Lowest value of a band."),
    Entry("nominal", "nominal", "", "mm", "Value for the nominal numbers."),
    Entry("high", "high", "", "mm", "Highest value of a band."),
)
"""Every name that a public function of stock, bending and rolling asks for."""

PATTERN_QUANTITIES = (
    Entry("sheet", "sheet", "", "", "The sheet a blank is cut from; its width is the height of the cylinder."),
    Entry("thickness", "thickness", "t", "mm", "Thickness of the sheet."),
    Entry("width", "width", "", "mm", "Width of a blank along the rolls, or finished width of a seam."),
    Entry("length", "length", "", "mm", "Length of a blank."),
    Entry("inside_diameter", "inside diameter", "", "mm", "Diameter of the inside face."),
    Entry("outside_diameter", "outside diameter", "", "mm", "Diameter of the outside face."),
    Entry("mean_diameter", "mean diameter", "", "mm", "Diameter of the middle of the thickness."),
    Entry("inside_radius", "inside radius", "", "mm", "Radius of the inside face of a bend."),
    Entry(
        "neutral_axis_factor",
        "neutral axis",
        "K",
        "-",
        "Where the length stays as it is, as a share of the thickness from the inside.",
    ),
    Entry("factor", "neutral axis", "K", "-", "The same, where it is given."),
    Entry("rule", "rule", "", "", "Which handbook rule places the neutral axis."),
    Entry("angle", "angle", "", "rad", "An angle on the pattern."),
    Entry("seam", "seam", "", "", "How the ends are joined: butt, lap or grooved."),
    Entry("gap", "gap", "", "mm", "Distance between the edges of a butt seam."),
    Entry("rivet_diameter", "rivet diameter", "d", "mm", "Diameter of the rivets in a lap."),
    Entry("fold_allowance", "fold allowance", "", "mm", "A little extra that the folds of a grooved seam take."),
    Entry("trim", "trim", "", "mm", "Length cut off again after rolling."),
    Entry("large_diameter", "large diameter", "D", "mm", "Diameter of the large end of a cone, to mid-thickness."),
    Entry(
        "small_diameter",
        "small diameter",
        "d",
        "mm",
        "Diameter of the small end of a cone, to mid-thickness; zero for a full cone.",
    ),
    Entry("large_inside_diameter", "large inside diameter", "", "mm", "The large end, measured inside."),
    Entry("large_outside_diameter", "large outside diameter", "", "mm", "The large end, measured outside."),
    Entry("small_inside_diameter", "small inside diameter", "", "mm", "The small end, measured inside."),
    Entry("small_outside_diameter", "small outside diameter", "", "mm", "The small end, measured outside."),
    Entry("diameter", "diameter", "", "mm", "Diameter of a cylinder, to mid-thickness."),
    Entry("height", "height", "h", "mm", "Height of the piece along its axis."),
    Entry("slant", "slant", "s", "mm", "Length of a cone's wall from end to end."),
    Entry("pieces", "pieces", "n", "-", "How many equal patterns make the whole."),
    Entry("offset", "offset", "", "mm", "How far the small end stands aside of the large one."),
    Entry("segments", "segments", "", "-", "How many strips an oblique cone is divided into."),
    Entry("seam_side", "seam side", "", "", "Whether the seam runs where the wall is shortest or longest."),
    Entry("cut_angle", "cut angle", "", "rad", "Slope of the plane that cuts a cylinder."),
    Entry("cut_angle_degrees", "cut angle", "", "deg", "The same, in degrees."),
    Entry("large_edge", "large edge", "", "mm", "Allowance added at the large end, for a wire or a flange."),
    Entry("small_edge", "small edge", "", "mm", "Allowance added at the small end."),
    Entry("wire_diameter", "wire diameter", "", "mm", "Diameter of the wire in a wired edge."),
    Entry("pattern", "pattern", "", "", "A flat pattern."),
    Entry("title", "title", "", "", "What the piece is."),
    Entry("cut", "cut", "", "mm", "Lines to cut."),
    Entry("folds", "folds", "", "mm", "Lines to fold on."),
    Entry("marks", "marks", "", "mm", "Lines to scribe."),
    Entry("labels", "labels", "", "", "Words on the pattern."),
    Entry("words", "words", "", "", "What a label says."),
    Entry("at", "place", "", "mm", "Where a label stands."),
    Entry("outline", "outline", "", "mm", "The cut edge of a blank, as points."),
    Entry("points", "points", "", "mm", "Points on the flat pattern."),
    Entry("radius", "radius", "R", "mm", "Radius of an arc to lay out."),
    Entry("chord", "chord", "c", "mm", "Straight line across an arc."),
    Entry("stations", "stations", "", "-", "How many places along a chord."),
    Entry("parts", "parts", "", "-", "How many equal parts an arc is divided into."),
    Entry("steps", "steps", "", "-", "How many steps of the dividers."),
    Entry("end", "end", "", "", "Which end of a cone: large or small."),
    Entry("large", "large arc", "", "mm", "Points of the large arc, from the baseline."),
    Entry("small", "small arc", "", "mm", "Points of the small arc, from the baseline."),
    Entry("sheet_length", "sheet length", "", "mm", "Length of the sheet that blanks are cut from."),
    Entry("sheet_width", "sheet width", "", "mm", "Width of the sheet that blanks are cut from."),
    Entry("share", "share", "", "-", "How far a pattern is rolled up: 0 is flat, 1 is closed."),
    Entry("spacing", "spacing", "", "mm", "Metal left between two blanks."),
    Entry("places", "places", "", "mm", "Where each blank lies on the sheet."),
    Entry("columns", "columns", "", "-", "Blanks side by side."),
    Entry("rows", "rows", "", "-", "Blanks one above the other."),
    Entry("scrap_fraction", "scrap", "", "-", "Share of the sheet that is left over."),
)
"""Every name that a public function of layout asks for; what is cut has a table of its own."""


def glossary_table() -> Table:
    """Return the words of the trade as a table.

    Returns
    -------
    table : Table
        Word, symbol, unit and meaning.
    """
    rows = tuple((entry.words, entry.symbol, entry.unit, entry.meaning) for entry in TRADE)
    return Table("Words of the trade", ("word", "symbol", "unit", "meaning"), rows)


def names_table() -> Table:
    """Return the names of quantities in code as a table.

    Returns
    -------
    table : Table
        Name in code, words, symbol, unit and meaning.
    """
    rows = tuple(
        (entry.name, entry.words, entry.symbol, entry.unit, entry.meaning)
        for entry in (*QUANTITIES, *PATTERN_QUANTITIES)
    )
    return Table("Names in the library", ("name in code", "words", "symbol", "unit", "meaning"), rows)


def _row(cells: tuple[str, ...], symbol: int) -> str:
    """Return the cells of one row as HTML; the first heads the row, and the symbol has a real subscript."""
    html = [escape(cell) for cell in cells]
    html[symbol] = re.sub(r"_(\w)", r"<sub>\1</sub>", html[symbol])
    left = 'style="text-align:left"'
    return f'<th scope="row" {left}>{html[0]}</th>' + "".join(f"<td {left}>{cell}</td>" for cell in html[1:])
