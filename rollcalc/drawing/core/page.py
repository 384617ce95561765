"""Where everything lands on the page: a picture turned into strokes and words in px, for any writer."""

import math
from dataclasses import dataclass, replace

import numpy as np

from rollcalc.stock.kinds import checked_kind

from .scene import ROLES, Box, Line, Pair, Points, Role, Scene, Text, pair

FONT_SIZE = 15
HALF_CAPITAL = 5.0  # half the height of a capital letter: lowers words to the middle of a line [px]
MARGIN = 40.0


@dataclass(frozen=True, eq=False)
class Stroke:
    """One or more runs of points on the page that share a role, each closed on itself or not."""

    runs: tuple[Points, ...]  # each of shape (n, 2), y down [px]
    role: Role
    closed: bool = False


@dataclass(frozen=True, eq=False)
class Page:
    """A picture laid out in px, y down; its words stand on top of all lines."""

    window: Box  # left, top, right and bottom of the part where lines may show [px]
    behind: tuple[Stroke, ...]  # grid and axes
    inside: tuple[Stroke, ...]  # everything cut off at the window
    words: tuple[Text, ...]


@dataclass(frozen=True, eq=False)
class _Scale:
    """The step from drawing to page: px = origin + factor × point, then the offset."""

    origin: Points
    factor: Points

    def __call__(self, points: Points, offset: Points) -> Points:
        """Return places on the page, shape (n, 2)."""
        placed: Points = self.origin + points * self.factor + offset * (1, -1)
        return placed


def page(picture: Scene) -> Page:
    """Return the picture laid out on its page; words are never measured."""
    checked_kind("the picture", picture, Scene, advice="take it from a function that draws one")
    scale, window, behind, labels = _drawing(picture) if picture.axes is None else _graph(picture)
    inside = [stroke for mark in picture.marks if isinstance(mark, Line) for stroke in _strokes(mark, scale, window)]
    words = [replace(mark, at=pair(scale(np.array(mark.at), np.array(mark.offset))), offset=(0.0, 0.0))
             for mark in picture.marks if isinstance(mark, Text)]
    return Page(window, tuple(behind), tuple(inside), (*labels, *words))


def ticks(low: float, high: float, about: int = 6) -> tuple[list[float], int]:
    """Return round values between two limits, and the decimals to write them with."""
    least = (high - low) / about
    power = math.floor(math.log10(least))
    times = next(n for n in (1, 2, 5, 10) if n * 10.0**power >= least * (1 - 1e-9))
    step, decimals = times * 10.0**power, max(0, -power - (times == 10))
    first, last = math.ceil(low / step - 1e-9), math.floor(high / step + 1e-9)
    return [round(n * step, decimals) for n in range(first, last + 1)], decimals


def signed(number: float, decimals: int) -> str:
    """Return a number with a minus sign, not a hyphen."""
    return f"{number:.{decimals}f}".replace("-", "\N{MINUS SIGN}")


def hatch_lines(outline: Points, spacing: float, slope: float, window: Box) -> Points:
    """Return the hatching of an area: parallel lines on a grid fixed to the page, cut off at the outline."""
    left, top, right, bottom = window
    angle = math.radians(-slope)
    turn = np.array([[math.cos(angle), -math.sin(angle)], [math.sin(angle), math.cos(angle)]])
    turned = outline @ turn  # (n, 2), hatching lies along x
    reach = (np.array([(left, top), (right, top), (right, bottom), (left, bottom)]) @ turn)[:, 1]
    low, high = max(turned[:, 1].min(), reach.min()), min(turned[:, 1].max(), reach.max())
    levels = np.arange(math.floor(low / spacing) + 1, math.ceil(high / spacing))[:, None] * spacing  # (m, 1)
    x, y = turned.T
    next_x, next_y = np.roll(turned, -1, axis=0).T
    rise = np.where(abs(next_y - y) < 1e-9, 1.0, next_y - y)  # an edge along the hatching
    crossing = np.where((y <= levels) != (next_y <= levels), x + (levels - y) * (next_x - x) / rise, np.inf)
    crossing = np.sort(crossing, axis=1)[:, : 2 * (len(x) // 2)].reshape(len(levels), len(x) // 2, 2)
    rows, pairs = np.nonzero((crossing[:, :, 1] > crossing[:, :, 0] + 1e-6) & (crossing[:, :, 1] < np.inf))
    segments: Points = np.stack([crossing[rows, pairs], np.broadcast_to(levels[rows], (len(rows), 2))], axis=2) @ turn.T
    return segments


def _drawing(picture: Scene) -> tuple[_Scale, Box, list[Stroke], list[Text]]:
    """Return the scale of a drawing: the same in x and y, centred in the page."""
    (left, right), (bottom, top) = _bounds(picture)
    if picture.frame is not None:
        left, bottom, right, top = picture.frame
    width, height = picture.size
    factor = min((width - 2 * MARGIN) / max(right - left, 1e-9), (height - 2 * MARGIN) / max(top - bottom, 1e-9))
    origin = np.array([width - factor * (left + right), height + factor * (bottom + top)]) / 2
    return _Scale(origin, np.array([factor, -factor])), (0.0, 0.0, float(width), float(height)), [], []


def _graph(picture: Scene) -> tuple[_Scale, Box, list[Stroke], list[Text]]:
    """Return the scale of a graph, its window, grid and axis words."""
    axes, (width, height) = picture.axes, picture.size
    assert axes is not None
    (x0, x1), (y0, y1) = (fixed or _rounded(low, high) for fixed, (low, high)
                          in zip((axes.x_range, axes.y_range), _bounds(picture), strict=True))
    x_words, y_words = ([(value, signed(value, decimals)) for value in values]
                        for values, decimals in (ticks(x0, x1), ticks(y0, y1)))
    left, top = 22.0 + 9 * max(len(words) for _, words in y_words), 40.0
    right, bottom = width - max(28.0, 5 + 5 * len(x_words[-1][1])), height - 52.0
    factor = np.array([(right - left) / (x1 - x0), (top - bottom) / (y1 - y0)])
    scale = _Scale(np.array([left, bottom]) - factor * (x0, y0), factor)
    x_ticks = [(float(scale.origin[0] + factor[0] * x), words) for x, words in x_words]
    y_ticks = [(float(scale.origin[1] + factor[1] * y), words) for y, words in y_words]
    grid = [np.array([(x, top), (x, bottom)]) for x, _ in x_ticks] + [
        np.array([(left, y), (right, y)]) for y, _ in y_ticks]
    corner = np.array([(left, top), (left, bottom), (right, bottom)])
    labels = [Text((x, bottom + 20), words, "dimension", "middle") for x, words in x_ticks]
    labels += [Text((left - 8, y + HALF_CAPITAL), words, "dimension", "end") for y, words in y_ticks]
    labels += [Text((right, height - 10), axes.x, "outline", "end"), Text((12, 22), axes.y, "outline")]
    behind = [Stroke(tuple(grid), ROLES["grid"]), Stroke((corner,), ROLES["dimension"])]
    return scale, (left, top, right, bottom), behind, labels


def _bounds(picture: Scene) -> tuple[Pair, Pair]:
    """Return the lowest and highest x, and the lowest and highest y, of everything drawn."""
    points = np.concatenate([m.points if isinstance(m, Line) else np.array([m.at]) for m in picture.marks])
    (x0, y0), (x1, y1) = points.min(axis=0).tolist(), points.max(axis=0).tolist()
    return (x0, x1), (y0, y1)


def _rounded(low: float, high: float) -> Pair:
    """Return limits rounded out to whole ticks."""
    if high - low < 1e-9 * max(abs(low), abs(high), 1e-9):
        low, high = low - 0.5 * (abs(low) or 1), high + 0.5 * (abs(high) or 1)
    values, _ = ticks(low, high)
    step = values[1] - values[0]
    return (values[0] - step * (values[0] > low + 1e-9 * step), values[-1] + step * (values[-1] < high - 1e-9 * step))


def _strokes(line: Line, scale: _Scale, window: Box) -> list[Stroke]:
    """Return the strokes of one line: hatching, the line itself, arrowheads."""
    role, points = ROLES[line.role], scale(line.points, line.offset)
    strokes, heads = [], []
    if line.closed and role.hatch:
        segments = hatch_lines(points, role.hatch, role.slope, window)
        strokes.append(Stroke(tuple(segments), Role(role.colour, 0.7)))
    for end, tip, behind in (("start", 0, 1), ("end", -1, -2)):
        if line.arrows in (end, "both"):
            head, points[tip] = _arrowhead(points[tip], points[behind], role.width)
            heads.append(head)
    strokes.append(Stroke((points,), role, line.closed))
    if heads:
        strokes.append(Stroke(tuple(heads), replace(role, width=0, fill=1), True))
    return strokes


def _arrowhead(tip: Points, behind: Points, width: float) -> tuple[Points, Points]:
    """Return the three corners of a slim filled arrowhead, and where its line should stop."""
    along = (tip - behind) / (np.hypot(*(tip - behind)) or 1.0)
    length, across = 8 + 2 * width, np.array([-along[1], along[0]])
    base = tip - length * along
    head = np.array([tip, base + 0.18 * length * across, base - 0.18 * length * across])
    return head, tip - 0.8 * length * along
