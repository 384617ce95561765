"""The piece of bar that is cut for a ring."""

from dataclasses import dataclass
from typing import Any

from rollcalc.layout import ButtSeam, CylinderBlank, LapSeam, cylinder_blank
from rollcalc.rolling.machine.grooves import width_along
from rollcalc.stock.kinds import checked_kind
from rollcalc.stock.quantities import checked_single
from rollcalc.stock.sections import FlatBar, RoundBar, Sheet


@dataclass(frozen=True, eq=False, repr=False)
class RingBlank(CylinderBlank):
    """A length of bar for a ring, laid out as a cylinder's blank as thick and as wide as the bar; made by
    `ring_blank`.
    """

    @property
    def caption(self) -> str:
        """What this is, in a line."""
        return f"Bar for a ring, {self.inside_diameter:g} mm inside, {self.thickness:g} × {self.width:g} mm"


def ring_blank(bar: FlatBar | RoundBar, seam: Any, **sizes: Any) -> RingBlank:
    """Return the blank of a ring of bar; a round bar is as wide as it is thick."""
    checked_kind("the seam", seam, (ButtSeam, LapSeam), advice="the ends of a bar meet, or lie on each other")
    depth = checked_single("thickness", bar.depth, "mm", above=0, advice="plan one piece at a time")
    width = checked_single("width", width_along(bar), "mm", above=0, advice="plan one piece at a time")
    blank = cylinder_blank(Sheet(thickness=depth, width=width), seam=seam, **sizes)
    return RingBlank(**blank._contents())
