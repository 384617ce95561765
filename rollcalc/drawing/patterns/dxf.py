"""A pattern as DXF in mm, on the layers CUT, FOLD, MARK and TEXT."""

import io
import math

from rollcalc.stock.quantities import InputError

from .words import CHECK_LINE, NamedPattern, open_line

LAYERS = {"CUT": (7, "CONTINUOUS"), "FOLD": (5, "DASHED"), "MARK": (6, "DASHDOT"), "TEXT": (8, "CONTINUOUS")}
"""Colour number of the format and kind of line of each layer."""
DASHES = {"DASHED": [5.5, 4.0, -1.5], "DASHDOT": [9.0, 6.0, -1.2, 0.6, -1.2]}  # the repeat, its dashes and gaps [mm]
DAY, NUMBER, WRITER = 2451545.0, "{00000000-0000-0000-0000-000000000000}", "rollcalc"
"""What stands for the date, a Julian one, the number drawn by lot, and who wrote it when: the same in every file."""


def pattern_dxf(pattern: NamedPattern) -> str:
    """Return the pattern as DXF text in mm, the same every time; a line is closed where the pattern closes it."""
    try:
        import ezdxf
        from ezdxf.enums import TextEntityAlignment as Align
    except ImportError:
        raise InputError("a DXF is written by ezdxf, which is not installed here: save SVG instead, or install "
                         "rollcalc[lessons].") from None
    document, flat = ezdxf.new("R2010", units=ezdxf.units.MM), pattern.flat
    for name, dashes in DASHES.items():
        document.linetypes.add(name, dashes)
    for name, (colour, linetype) in LAYERS.items():
        document.layers.add(name, color=colour, linetype=linetype)
    space = document.modelspace()
    for layer, lines in (("CUT", flat.cut), ("FOLD", flat.folds), ("MARK", flat.marks), ("TEXT", (CHECK_LINE,))):
        for line in lines:
            points, closed = open_line(line)
            space.add_lwpolyline(points.tolist(), close=closed, dxfattribs={"layer": layer})
    for texts, align in ((pattern.labels(), Align.MIDDLE_CENTER), (pattern.notes(), Align.LEFT)):
        for text in texts:
            entity = space.add_text(text.words, height=0.73 * text.size, rotation=math.degrees(text.angle),
                                    dxfattribs={"layer": "TEXT"})
            entity.set_placement(text.at, align=align)
    header, about = document.header, document.ezdxf_metadata()
    header["$TDCREATE"] = header["$TDUCREATE"] = header["$TDUUPDATE"] = DAY
    header["$FINGERPRINTGUID"], about["CREATED_BY_EZDXF"] = NUMBER, WRITER
    for name in sorted(document.entitydb.dxf_types_in_use()):  # writing itself takes them in any order
        document.classes.add_class(name)
    content = io.StringIO()
    document.write(content)
    # Writing itself sets these; each is found with the tag before it, so that no word of the pattern is taken for it.
    stamps = (("$TDUPDATE\n 40\n", header["$TDUPDATE"], DAY), ("$VERSIONGUID\n  2\n", header["$VERSIONGUID"], NUMBER),
              ("  1\n", about["WRITTEN_BY_EZDXF"], WRITER))
    written = content.getvalue()
    for tag, now, always in stamps:
        written = written.replace(f"{tag}{now}\n", f"{tag}{always}\n", 1)
    return written
