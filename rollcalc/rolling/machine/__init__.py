"""The machine: its kinds, its grooves, and the file that describes it."""
