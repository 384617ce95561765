"""What the machine does: where the rolls stand, and the curve they give."""

from .machines import DEMO_MACHINE, Machine, PinchMachine, PyramidMachine

__all__ = ["DEMO_MACHINE", "Machine", "PinchMachine", "PyramidMachine"]
