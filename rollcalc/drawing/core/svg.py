"""Pictures for the screen: plain SVG text, the same every time."""

from base64 import b64encode
from html import escape

from .page import FONT_SIZE, Page, Stroke, page
from .scene import ROLES, Scene, Text


def svg_text(picture: Scene) -> str:
    """Return the picture as SVG text.

    Parameters
    ----------
    picture : Picture
        What to draw.

    Returns
    -------
    svg : str
        One ``<svg>`` element on its own white ground, named for screen readers by the picture's alt.

    Notes
    -----
    Has no identifiers, styles or scripts, so that many may stand in one web page.

    Source: SVG 1.1, W3C Recommendation; ``paint-order`` from SVG 2.

    Examples
    --------
    >>> from rollcalc.drawing.core.picture import Line, Picture
    >>> picture = Picture("A flat sheet.", [Line([(0, 0), (100, 0)], "sheet")], alt="Sheet")
    >>> svg_text(picture).count("<path")
    1
    """
    laid, (width, height) = page(picture), picture.size
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-label="{escape(picture.alt)}" '
        f'viewBox="0 0 {width} {height}" width="{width}" height="{height}" style="max-width:100%;height:auto" '
        f'font-family="sans-serif" font-size="{FONT_SIZE}"><rect width="{width}" height="{height}" fill="#fff"/>'
        f"{''.join(map(_path, laid.behind))}{_inside(laid)}"
        f'<g stroke="#fff" stroke-width="4" stroke-linejoin="round" paint-order="stroke">'
        f"{''.join(map(_words, laid.words))}</g></svg>")


def html_figure(picture: Scene, note: str = "") -> str:
    """Return the picture as an HTML figure that survives where scripts and inline SVG are stripped.

    Parameters
    ----------
    picture : Picture
        What to show.
    note : str
        Words added to the caption after the sentence.

    Returns
    -------
    html : str
        A ``<figure>`` with the SVG as a data image, and the sentence as its caption.

    Source: measured in JupyterLab with an untrusted notebook: a data image and its caption stay visible.

    Examples
    --------
    >>> from rollcalc.drawing.core.picture import Line, Picture
    >>> picture = Picture("A flat sheet.", [Line([(0, 0), (100, 0)], "sheet")], alt="Sheet")
    >>> html_figure(picture).endswith("<figcaption>A flat sheet.</figcaption></figure>")
    True
    """
    data = b64encode(svg_text(picture).encode()).decode()
    caption = escape(f"{picture.sentence} {note}".rstrip(), quote=False)
    return (f'<figure><img alt="{escape(picture.alt)}" src="data:image/svg+xml;base64,{data}">'
            f"<figcaption>{caption}</figcaption></figure>")


def _inside(laid: Page) -> str:
    """Return the marks; an inner svg element cuts them off at the window, and needs no identifier."""
    left, top, right, bottom = (round(edge, 1) for edge in laid.window)
    left, top, right, bottom = left - 2, top - 2, right + 2, bottom + 2  # room for half a thick line
    width, height = right - left, bottom - top
    return (f'<svg x="{left:.1f}" y="{top:.1f}" width="{width:.1f}" height="{height:.1f}" '
            f'viewBox="{left:.1f} {top:.1f} {width:.1f} {height:.1f}" fill="none" stroke-linejoin="round">'
            f"{''.join(map(_path, laid.inside))}</svg>")


def _path(stroke: Stroke) -> str:
    """Return one path element."""
    end = "Z" if stroke.closed else ""
    runs = ((("%.1f %.1fL" * len(run)) % tuple(run.ravel().tolist()))[:-1] for run in stroke.runs)  # at once: fast
    data, role = "".join(f"M{run}{end}" for run in runs), stroke.role
    dash = f' stroke-dasharray="{" ".join(f"{d:g}" for d in role.dash)}"' if role.dash else ""
    line = f' stroke="{role.colour}" stroke-width="{role.width:g}"{dash}' if role.width else ""
    opacity = "" if role.fill == 1 else f' fill-opacity="{role.fill:g}"'
    fill = f' fill="{role.colour}"{opacity}' if stroke.closed and role.fill else ' fill="none"'
    return f'<path d="{data}"{line}{fill}/>' if data else ""


def _words(text: Text) -> str:
    """Return one text element."""
    (x, y), colour = text.at, ROLES[text.role].colour
    anchor = "" if text.anchor == "start" else f' text-anchor="{text.anchor}"'
    turn = f' transform="rotate({-text.angle:.1f} {x:.1f} {y:.1f})"' if text.angle else ""
    return f'<text x="{x:.1f}" y="{y:.1f}" fill="{colour}"{anchor}{turn}>{escape(text.words, quote=False)}</text>'
