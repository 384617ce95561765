"""What you do: a job on your machine, pass by pass."""

from .estimate import Estimate, estimate
from .next_pass import NextPass
from .reading import Band, Reading

__all__ = ["Band", "Estimate", "NextPass", "Reading", "estimate"]
