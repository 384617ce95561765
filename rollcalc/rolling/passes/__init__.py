"""Passes: how the work is shared, planned again after a measurement, and said in words."""
