"""A derivation is a list of steps that SymPy checks line by line and a notebook shows as mathematics."""

import re
from collections.abc import Callable
from dataclasses import dataclass
from html import escape

import sympy as sp

Equations = tuple[sp.Eq, ...]
"""The equations of the steps so far, first to last."""


class DerivationError(AssertionError):
    """A step whose equation does not follow from the steps before it."""


@dataclass(frozen=True)
class Step:
    """One line of a derivation: what is said, what is written, and how it follows."""

    sentence: str
    equation: sp.Eq
    follows: Callable[[Equations], sp.Expr] | None = None  # the right side from the steps before; None: something new


@dataclass(frozen=True)
class Derivation:
    """Steps from what is known to what is wanted."""

    title: str
    symbols: dict[sp.Symbol, str]  # every symbol with its meaning and unit
    steps: tuple[Step, ...]

    @property
    def result(self) -> sp.Eq:
        """The last line."""
        return self.steps[-1].equation

    def verify(self) -> int:
        """Return how many steps were worked out again and found equal, or raise at the first that differs."""
        checked = 0
        for number, step in enumerate(self.steps):
            if step.follows is None:
                continue
            earlier = tuple(before.equation for before in self.steps[:number])
            difference = sp.simplify(step.follows(earlier) - step.equation.rhs)
            if difference != 0:
                raise DerivationError(f"{self.title}, step {number + 1}: {step.equation} is off by {difference}.")
            checked += 1
        return checked

    def _repr_mimebundle_(self, include: object = None, exclude: object = None) -> dict[str, str]:
        return {"text/html": self._html(), "text/plain": self._text()}

    def _html(self) -> str:
        """Return the folded derivation, its equations in LaTeX."""
        names = ", ".join(f"\\({sp.latex(symbol)}\\) {_words(words)}" for symbol, words in self.symbols.items())
        lines = "".join(f"<li>{_words(step.sentence)} \\[{sp.latex(step.equation)}\\]</li>" for step in self.steps)
        checked = (f"SymPy worked out {self.verify()} of these {len(self.steps)} lines again. "
                   "The others are where something new is said.")
        return (f"<details><summary>Derivation: {escape(self.title)}</summary>"
                f"<p>{names}.</p><ol>{lines}</ol><p>{checked}</p></details>")

    def _text(self) -> str:
        """Return the derivation as plain lines."""
        lines = [f"{number}. {step.sentence} {step.equation.lhs} = {step.equation.rhs}"
                 for number, step in enumerate(self.steps, 1)]
        return "\n".join([f"Derivation: {self.title}", *lines])


@dataclass(frozen=True)
class Derivations:
    """Several derivations, shown one after the other, in the order they build on each other."""

    parts: tuple[Callable[[], Derivation], ...]

    def _repr_mimebundle_(self, include: object = None, exclude: object = None) -> dict[str, str]:
        shown = [derive()._repr_mimebundle_() for derive in self.parts]
        return {"text/html": "".join(one["text/html"] for one in shown),
                "text/plain": "\n\n".join(one["text/plain"] for one in shown)}


def picked(names: dict[sp.Symbol, str], *symbols: sp.Symbol) -> dict[sp.Symbol, str]:
    """Return some of a lesson's symbols with their meanings, in the order given."""
    return {symbol: names[symbol] for symbol in symbols}


def _words(text: str) -> str:
    """Return a sentence as HTML, with real subscripts on its symbols."""
    return re.sub(r"_([^\W\d_]+|\d)", r"<sub>\1</sub>", escape(text))
