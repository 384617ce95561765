"""The problem of lesson 00, to try the answering out."""

from ..engine.problem import Problem, Slip

PROBLEMS = (
    Problem("00.1",
        "The lantern's body is {inside_diameter} mm across inside, of sheet {thickness} mm thick. What is its radius "
        "to the middle of the thickness? Answer to 0.1 mm.",
        {"inside_diameter": 180, "thickness": 0.76},
        lambda inside_diameter, thickness: (inside_diameter + thickness) / 2, "mm", 0.1, digits=2, slips=(
            Slip(lambda inside_diameter, thickness: inside_diameter / 2,
                 "this is the inside radius: go on to the middle of the thickness."),
            Slip(lambda inside_diameter, thickness: inside_diameter / 2 + thickness,
                 "this is the outside radius: stop at the middle of the thickness."),
            Slip(lambda inside_diameter, thickness: inside_diameter + thickness, "this is a diameter: halve it."))),
)
