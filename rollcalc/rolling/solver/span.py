r"""The sheet between the inside roll and another roll: one identity carries it all.

Between the two contacts the sheet feels only the other roll's normal force F, so with u the slope
still to go to that roll

.. math:: F \sin u = \int_0^{M} \kappa\,dM = U(M), \qquad F \sin\theta = U(M_0)

where M₀ is the moment at the inside roll and θ the whole slope between the contacts. Seen from the
roll, along its tangent and across it, the inside contact lies at

.. math:: \xi = \frac{M_0}{F} = x S, \qquad \eta = \frac1F \int_0^{M_0} \tan u\,dM
          = x S^2 \int_0^1 \frac{\rho\,dm}{\sqrt{1 - S^2\rho^2}}

with S = sin θ, x = M₀/U(M₀), m = M/M₀ and ρ = U(M)/U(M₀). Only the path from no moment to M₀ tells
a span that unloads from one that loads; everything else is shared.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rollcalc.bending.law import FibreLaw
from rollcalc.bending.moment import first_moments
from rollcalc.stock.quantities import FloatLike, plain
from rollcalc.stock.sections import Stock, gauss_points

from .path import Step, complement, loading_path

POINTS = 16
"""Gauss points on each part of a path: 2e-10 of the shape up to a slope of 1.2 rad, 7e-8 at `STEEPEST`."""

STEEPEST = 1.4
"""Largest slope between two contacts that the model is used for. [rad]"""


Piece = Callable[[FloatLike], Step]


@dataclass(frozen=True, eq=False)
class Span:
    """A span as its path from no moment to M₀ tells it."""

    lever: FloatLike  # moment over complementary energy at the inside roll, x = M₀/U(M₀) [mm]
    energies: NDArray[np.float64]  # share of the energy spent at each Gauss point of the path, ρ [-]
    moments: NDArray[np.float64]  # Gauss weights of the share of the moment, dm; they add up to 1 [-]
    # the smooth pieces of the path from the outer contact inwards; each tells its `Step` at a share from 0 to 1
    pieces: tuple[Piece, ...]

    @property
    def mean_curvature(self) -> FloatLike:
        """Curvature of the arc that rises as far, for small slopes: (2/M₀²) ∫κ M dM. [1/mm]"""
        return plain(2 / self.lever * (1 - (self.energies * self.moments).sum(axis=0)))

    def place(self, sine: FloatLike) -> tuple[FloatLike, FloatLike, FloatLike, FloatLike]:
        """Return ξ and η [mm], and how both change with the sine of the slope [mm]."""
        square = np.asarray(sine) ** 2
        inverse = 1 / np.sqrt(1 - square * self.energies**2)  # shape (points, ...)
        parts = self.moments * self.energies * inverse
        across = parts.sum(axis=0)
        steeper = (parts * (self.energies * inverse) ** 2).sum(axis=0)
        return (self.lever * sine, self.lever * square * across, self.lever,
                self.lever * sine * (2 * across + square * steeper))

    def length(self, sine: FloatLike) -> FloatLike:
        """Return the length along the span [mm]."""
        per_moment = self.moments / np.sqrt(1 - (sine * self.energies) ** 2)
        return plain(self.lever * np.asarray(sine) * per_moment.sum(axis=0))


@dataclass(frozen=True, eq=False)
class LevelledSpan:
    """A span whose moment goes on rising at the inside roll while its curvature stays: it ends in a short arc.

    With U for the base, the energy grows to U + κσM₀; so the base takes up c = 1/(1 + κσx) of the sine of the slope,
    the arc the rest.
    """

    base: Span  # the span up to the moment that bends the stock
    loaded: FloatLike  # curvature there and along the arc, κ [1/mm]
    share: FloatLike  # how much more the beam's moment rises, as a share σ of it [-]

    @property
    def kept(self) -> FloatLike:
        """Share of the sine of the slope that the base takes up, c. [-]"""
        return 1 / (1 + self.loaded * self.share * self.base.lever)

    @property
    def lever(self) -> FloatLike:
        """Moment over complementary energy at the inside roll. [mm]"""
        return plain(self.base.lever * (1 + np.asarray(self.share)) * self.kept)

    @property
    def pieces(self) -> tuple[Piece, ...]:
        """The pieces of the base, and the arc."""
        whole, spent = 1 + np.asarray(self.share), self.kept

        def lower(at: Step) -> Step:
            return Step(at.moment / whole, at.change / whole, at.energy * spent, at.curvature)

        def level(part: FloatLike) -> Step:
            more = np.asarray(part) * self.share
            energy = (1 + self.loaded * self.base.lever * more) * spent
            return Step((1 + more) / whole, self.share / whole, energy, self.loaded + 0 * more)

        return *(lambda part, piece=piece: lower(piece(part)) for piece in self.base.pieces), level

    def place(self, sine: FloatLike) -> tuple[FloatLike, FloatLike, FloatLike, FloatLike]:
        """Return ξ and η [mm], and how both change with the sine of the slope [mm]."""
        kept, square = self.kept, np.asarray(sine) ** 2
        inner, outer = np.sqrt(1 - square * kept**2), np.sqrt(1 - square)
        _, across, _, change = self.base.place(sine * kept)
        rise = square * self.share * self.base.lever * kept * (1 + kept) / (inner + outer)
        return self.lever * sine, across + rise, self.lever, change * kept + self._arc_slope(sine)

    def place_by_share(self, sine: FloatLike, across_slope: FloatLike) -> tuple[FloatLike, FloatLike]:
        """Return how ξ and η change with the share [mm], from the slope of η that `place` gave."""
        kept, reach = self.kept, self.base.lever * self.kept
        inner = np.sqrt(1 - (np.asarray(sine) * kept) ** 2)
        change = (across_slope - self._arc_slope(sine)) / kept
        along = sine * reach * (1 - self.loaded * self.lever)
        return along, sine * reach * kept * (sine * kept / inner - self.loaded * change)

    def length(self, sine: FloatLike) -> FloatLike:
        """Return the length along the span [mm]."""
        start = np.asarray(sine) * self.kept
        return plain(self.base.length(start) + (np.arcsin(sine) - np.arcsin(start)) / self.loaded)

    def _arc_slope(self, sine: FloatLike) -> FloatLike:
        """Return how the arc's part of η changes with the sine [mm]."""
        square = np.asarray(sine) ** 2
        inner, outer = np.sqrt(1 - square * self.kept**2), np.sqrt(1 - square)
        return plain(sine * (1 / outer - self.kept**2 / inner) / self.loaded)


def leaving_span(loaded: FloatLike, released: FloatLike) -> Span:
    """Return the span of stock that unloads from the inside roll to the roll it leaves over.

    Unloading is elastic, κ = κ_r + M/(E′I), so U = κ_r M + M²/(2E′I) in closed form and x = 2/(κ + κ_r).
    """
    kept = np.asarray(released / loaded)

    def unloading(share: FloatLike) -> Step:
        energy = share * (2 * kept + (1 - kept) * share) / (1 + kept)
        return Step(share, 1.0, energy, released + (loaded - released) * share)

    return _span(2 / (loaded + released), kept.ndim, unloading)


def entering_span(stock: Stock, law: FibreLaw, loaded: FloatLike, previous: FloatLike) -> Span:
    """Return the span of stock that loads from the roll it enters over to the inside roll. Elastic from its entering
    curvature up to the largest curvature so far, or first yield, then along the loading curve, stepped in the logarithm
    of curvature, in which it is smooth.
    """
    path = loading_path(stock, law, loaded, previous)
    growth = np.log(np.maximum(loaded, path.turn) / path.turn)

    def elastic(share: FloatLike) -> Step:
        part = path.elastic * share
        energy = (path.entering * part + part**2 / 2) / path.energy
        return Step(part / path.moment, path.elastic / path.moment, energy, path.entering + part)

    def loading(share: FloatLike) -> Step:
        curvature = path.turn * np.exp(growth * share)
        released, slope, area = first_moments(stock, law, curvature)
        energy = path.elastic_energy + (complement(curvature, released, area) - path.skipped_energy)
        moment = path.elastic + ((curvature - released) - (path.turn - path.entering))
        change = (1 - slope) * curvature * growth
        return Step(moment / path.moment, change / path.moment, energy / path.energy, curvature)

    return _span(path.moment / path.energy, np.ndim(growth), elastic, loading)


def _span(lever: FloatLike, dimensions: int, *pieces: Piece) -> Span:
    """Return the span of a path in pieces, with Gauss points crowded towards each piece's inner end. A steep span bends
    fastest there; in the root of what is left to the end it is smooth.
    """
    place, weight = (np.array(column) for column in zip(*gauss_points(POINTS), strict=True))
    shape = (POINTS,) + (1,) * dimensions
    share, part = (1 - place**2).reshape(shape), (2 * place * weight).reshape(shape)
    steps = [piece(share) for piece in pieces]
    whole = np.broadcast_shapes(*(np.shape(step.energy) for step in steps))
    energies, moments = (np.concatenate([np.broadcast_to(number, whole) for number in column]) for column in
                         zip(*((step.energy, step.change * part) for step in steps), strict=True))
    return Span(lever, energies, moments, pieces)
