"""What you cut: blanks of cylinders, patterns of cones, and how they lie on the sheet."""

from .pattern import FlatPattern, Label, Layout, Polyline, rolled_up

__all__ = ["FlatPattern", "Label", "Layout", "Polyline", "rolled_up"]
