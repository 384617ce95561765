"""Metals: what bends them, what they spring back with, and how little is known of their yield."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cache
from typing import Any

import numpy as np

from .kinds import checked_kind
from .lookup import data_text, unknown_name
from .quantities import FloatLike, InputError, check_shapes, checked, checked_single, shown
from .record import Record, Written


LONGEST_NAME = 80
"""Characters of a metal's name, which stands in many sentences."""


@dataclass(frozen=True, eq=False, repr=False)
class Swift(Written):
    """A power law of hardening, σ = K (ε₀ + ε_p)ⁿ.

    Parameters
    ----------
    strength : float or array, shape (...)
        Strength coefficient K. [MPa]
    offset : float or array, broadcastable
        Strain offset ε₀, which gives the metal a yield point. [-]
    exponent : float or array, broadcastable
        Hardening exponent n. [-]

    Notes
    -----
    First yield is at K ε₀ⁿ. Validity: monotonic loading, strains the curve was fitted over.
    Source: H. W. Swift, J. Mech. Phys. Solids 1 (1952) 1-18 (from memory).

    Examples
    --------
    >>> round(Swift(strength=1270, offset=0.0139, exponent=0.345).first_yield)
    290
    """

    strength: FloatLike
    offset: FloatLike
    exponent: FloatLike

    SHOWS = "strength [MPa], offset [-], exponent [-]"

    def __post_init__(self) -> None:
        fit = "take it from a fitted stress-strain curve"
        self._keep(strength=checked("strength", self.strength, "MPa", above=0, advice=fit),
                   offset=checked("offset", self.offset, "", above=0, advice=fit),
                   exponent=checked("exponent", self.exponent, "", at_least=0, below=1, advice=fit))
        check_shapes("the numbers of the power law", self.strength, self.offset, self.exponent)

    @property
    def first_yield(self) -> FloatLike:
        """Stress at which the metal first yields, K ε₀ⁿ. [MPa]"""
        return self.strength * self.offset**self.exponent


@dataclass(frozen=True, eq=False, repr=False)
class Material(Record):
    """A metal: stiffness, yield strength and hardening, and the range its yield strength may lie in.

    Parameters
    ----------
    name : str
        What it is called.
    elastic_modulus : float or array, shape (...)
        Elastic modulus E. [MPa]
    poisson_ratio : float or array, broadcastable
        Poisson's ratio ν. [-]
    yield_strength : float or array, broadcastable, or None
        Stress σ_y where yielding starts; give either this or ``swift``. [MPa]
    hardening_modulus : float or array, broadcastable
        Slope H = dσ/dε_plastic of the straight hardening line; leave it out beside ``swift``. [MPa]
    swift : Swift or None
        A power law of hardening instead of a yield strength and a straight line.
    yield_range : tuple of two floats, or None
        Lowest and highest yield strength met under this name. [MPa]
    density : float or None
        Mass per volume. [kg/mm³]
    source : str or mapping of str to str
        Where the numbers come from; a mapping gives each field's own source.

    Raises
    ------
    InputError
        If a number is out of range, if not exactly one of yield_strength and swift is given, or if shapes do not fit.

    Notes
    -----
    Validity: isotropic metal, loaded once in one direction.
    Source: standard constants of elasticity and plasticity, any strength text (from memory).

    Examples
    --------
    >>> steel = Material("mine", elastic_modulus=205_000, poisson_ratio=0.3, yield_strength=250)
    >>> steel.first_yield
    250.0
    """

    name: str
    elastic_modulus: FloatLike
    poisson_ratio: FloatLike
    yield_strength: FloatLike | None = None
    hardening_modulus: FloatLike = 0.0
    yield_range: tuple[float, float] | None = None
    density: float | None = None
    source: str | Mapping[str, str] = ""
    swift: Swift | None = None

    SHOWS = ("elastic_modulus [MPa], poisson_ratio [-], yield_strength [MPa], hardening_modulus [MPa], swift, "
             "yield_range [MPa]")

    @property
    def caption(self) -> str:
        """What this is, in a line."""
        return self.name

    def __post_init__(self) -> None:
        book = "take it from a data sheet"
        self._check_words()
        self._check_yield()
        fields: dict[str, Any] = {
            "elastic_modulus": checked("elastic modulus", self.elastic_modulus, "MPa", above=0, advice=book),
            "poisson_ratio": checked("Poisson's ratio", self.poisson_ratio, "", at_least=0, below=0.5, advice=book),
            "hardening_modulus": checked("hardening modulus", self.hardening_modulus, "MPa", at_least=0, advice=book),
        }
        if self.yield_strength is not None:
            fields["yield_strength"] = checked("yield strength", self.yield_strength, "MPa", above=0, advice=book)
        check_shapes(f"the numbers of {self.name}", *fields.values(), *([self.swift.first_yield] if self.swift else []))
        if self.swift is not None and np.any(fields["hardening_modulus"]):
            raise InputError(f"{self.name} has both hardening_modulus [MPa] and swift, but must have one of them: "
                             "leave the other out.")
        if self.density is not None:
            fields["density"] = checked_single("density", self.density, "kg/mm³", above=0, advice=book)
        if self.yield_range is not None:
            fields["yield_range"] = self._checked_range(self.yield_range)
        self._keep(**fields)

    def _check_words(self) -> None:
        """Refuse a name or a source that is not text."""
        if not isinstance(self.name, str) or not 0 < len(self.name.strip()) <= LONGEST_NAME:
            raise InputError(f"the material's name is {shown(self.name)}, but must be text of at most {LONGEST_NAME} "
                             "characters: say what it is called.")
        if not isinstance(self.source, str | Mapping):
            raise InputError(f"the source of {self.name} is {shown(self.source)}, but must be text, or text by field: "
                             "say where the numbers come from.")

    def _check_yield(self) -> None:
        """Refuse a metal with no first yield, with two, or with a power law that is none."""
        if self.swift is not None and not isinstance(self.swift, Swift):
            raise InputError(f"swift of {self.name} is {shown(self.swift)}, but must be a power law: "
                             "write Swift(strength=…, offset=…, exponent=…).")
        if (self.yield_strength is None) == (self.swift is None):
            given = "neither" if self.swift is None else "both"
            raise InputError(f"{self.name} has {given} of yield_strength [MPa] and swift, but must have exactly one: "
                             "give the yield strength, or a fitted power law.")

    def _checked_range(self, yield_range: tuple[float, float]) -> tuple[float, float]:
        """Return the yield range as two floats, low before high."""
        ends = checked("yield range", yield_range, "MPa", above=0, advice="give its lowest and highest value")
        if np.shape(ends) != (2,) or ends[0] > ends[1]:  # type: ignore[index]
            raise InputError(f"yield range is {shown(yield_range)} MPa, but must be two numbers, the lower first: "
                             "give the lowest and highest yield strength.")
        return float(ends[0]), float(ends[1])  # type: ignore[index]

    @property
    def first_yield(self) -> FloatLike:
        """Stress at which the metal first yields in a tension test. [MPa]"""
        return self.swift.first_yield if self.swift is not None else self.yield_strength  # type: ignore[return-value]

    def with_yield(self, yield_strength: FloatLike) -> Material:
        """Return the same metal with another first yield; a power law keeps its shape and is scaled. [MPa]"""
        wanted = checked("yield strength", yield_strength, "MPa", above=0, advice="take it from a data sheet")
        if self.swift is None:
            return replace(self, yield_strength=wanted)
        check_shapes(f"the numbers of {self.name}", wanted, self.swift.first_yield)
        scaled = replace(self.swift, strength=self.swift.strength * wanted / self.swift.first_yield)
        return replace(self, swift=scaled)


def checked_material(material: Material) -> Material:
    """Return the metal, or raise the sentence that says how to name one."""
    checked_kind("the material", material, Material, advice="take one from MATERIALS by its name, or describe yours")
    return material


class _MaterialTable(Mapping[str, Material]):
    """The metals of the data file, read at the first look-up."""

    def __getitem__(self, name: str) -> Material:
        """Return the metal of that name, or raise the sentence that names near ones."""
        if not isinstance(name, str) or name not in _materials_by_name():
            raise unknown_name("material", name, self)
        return _materials_by_name()[name]

    def __iter__(self) -> Iterator[str]:
        """Yield the names in the order of the data file."""
        return iter(_materials_by_name())

    def __len__(self) -> int:
        """Return how many metals there are."""
        return len(_materials_by_name())

    def __repr__(self) -> str:
        """Return the names, one a line, as a lesson shows them."""
        return "\n".join(self)


MATERIALS: Mapping[str, Material] = _MaterialTable()
"""Metals by name, each number with its source. A typo raises `UnknownNameError` and names near matches."""


@cache
def _materials_by_name() -> dict[str, Material]:
    """Return the metals of the data file."""
    import tomllib  # here and not above: it would slow every import, and is needed only at the first look-up

    return {name: _material(name, entries) for name, entries in tomllib.loads(data_text("materials.toml")).items()}


def _material(name: str, entries: Mapping[str, Mapping[str, Any]]) -> Material:
    """Return one metal of the data file, in which every field holds a value and its source."""
    values = {field: entry["value"] for field, entry in entries.items()}
    if "swift" in values:
        values["swift"] = Swift(**values["swift"])
    return Material(name, source={field: str(entry["source"]) for field, entry in entries.items()}, **values)
