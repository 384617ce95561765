"""What you do: a job on your machine, pass by pass."""

from .estimate import Estimate, estimate
from .next_pass import NextPass

__all__ = ["Estimate", "NextPass", "estimate"]
