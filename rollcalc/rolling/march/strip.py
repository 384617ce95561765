"""A strip of stock whose fibres remember how far each has yielded."""

import math

import numpy as np
from numpy.typing import NDArray

from rollcalc.bending.law import fibre_law
from rollcalc.stock.materials import Material
from rollcalc.stock.sections import Stock

FIBRES = 20
"""Fibres over half the depth, at Gauss points; the other half does the opposite."""

Line = NDArray[np.float64]
Nodes = NDArray[np.int_]


class Strip:
    """Sections of stock a cell apart, each a bundle of fibres with their own history.

    Section 0 is the tip that goes in first. A fibre that has yielded by p in all, whichever way, is as hard as a new
    one stretched by p, so one curve of stress serves every history (isotropic hardening). Moments are given over E′I:
    as the curvature that they spring back by.
    """

    def __init__(self, stock: Stock, material: Material, cell: float, length: float) -> None:
        """Start flat and without stress; ``cell`` is from one section to the next. [mm]"""
        self.depth, self.cell, self.law = float(stock.depth), cell, fibre_law(stock, material)
        self.stiffness = float(self.law.modulus * stock.second_moment)
        self.height, area = np.array([tuple(map(float, fibre)) for fibre in stock.outer_fibres(0.0, FIBRES)]).T
        self.lever = self.height * area / (self.height**2 * area).sum()
        self.plastic = np.zeros((round(math.ceil(length / cell)) + 1, FIBRES))
        self.yielded = np.zeros_like(self.plastic)

    @property
    def last(self) -> int:
        """Number of the section at the other end."""
        return len(self.plastic) - 1

    @property
    def distance(self) -> Line:
        """How far each section is from the tip. [mm]"""
        return np.arange(self.last + 1, dtype=np.float64) * self.cell

    @property
    def kept(self) -> Line:
        """Curvature that each section has without a moment. [1/mm]"""
        return np.asarray(self.plastic @ self.lever)

    def section(self, nodes: Nodes, bend: Line) -> tuple[Line, Line, Line]:
        """Return moment over E′I of sections held at a curvature, its slope, and how far their fibres would yield."""
        plastic, before = self.plastic[nodes], self.yielded[nodes]
        elastic = bend[:, None] * self.height - plastic
        strain = np.abs(elastic) + before
        flow = np.maximum(self.law.plastic_strain(strain) - before, 0.0)
        softer = np.where(flow > 0, self.law.plastic_strain_slope(strain), 0.0) @ (self.lever * self.height)
        flow = np.copysign(flow, elastic)
        return bend - (plastic + flow) @ self.lever, 1 - softer, flow

    def hold(self, nodes: Nodes, bend: Line) -> None:
        """Let the fibres of sections yield as far as the curvature they are held at asks for."""
        flow = self.section(nodes, bend)[2]
        self.plastic[nodes] += flow
        self.yielded[nodes] += np.abs(flow)

    def turn_round(self) -> None:
        """Turn the strip end for end."""
        self.plastic, self.yielded = self.plastic[::-1].copy(), self.yielded[::-1].copy()
