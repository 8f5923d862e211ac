"""A page as an SVG document, true to scale: its view box counts millimeters of the paper."""

from __future__ import annotations

from typing import Final

from session.prints.drawn_shapes import PENS, Anchor, Disc, Lettering, Shape, Spot, Trace
from session.prints.page_sheets import MARGIN, PageSheet
from session.prints.svg_text import svg_text
from session.trade.rounding import whole_number

_FONTS: Final = "'Bitstream Vera Sans','DejaVu Sans',Verdana,sans-serif"


def svg_sheet(sheet: PageSheet) -> str:
    """The document of one page."""
    wide, high = sheet.stock.size_mm(sheet.lying)
    body = "\n".join(map(_drawn, sheet.shapes))
    return (
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide:g}mm" height="{high:g}mm" '
        f'viewBox="0 0 {wide:g} {high:g}">\n'
        f"<title>{svg_text(sheet.title)}</title>\n<style>{_style()}</style>\n"
        f'<rect width="{wide:g}" height="{high:g}" fill="#fff"/>\n'
        f'<g transform="translate({MARGIN:g} {MARGIN:g}) scale({sheet.stock.scale:.8g})">\n{body}\n</g>\n</svg>\n'
    )


def _style() -> str:
    rules = [f"text{{font-family:{_FONTS};fill:#000}}.heavy{{font-weight:bold}}"]
    rules += [f".{anchor}{{text-anchor:{anchor}}}" for anchor in Anchor]
    for ink, pen in PENS.items():
        gray = f"#{whole_number(255 * pen.gray):02x}" + f"{whole_number(255 * pen.gray):02x}" * 2
        dash = f";stroke-dasharray:{pen.dash_mm[0]:g} {pen.dash_mm[1]:g}" if pen.dash_mm else ""
        face = f"fill:{gray}" if pen.filled else f"fill:none;stroke:{gray};stroke-width:{pen.wide_mm:g}{dash}"
        rules.append(f".{ink}{{{face}}}")
    return "".join(rules)


def _drawn(shape: Shape) -> str:
    if isinstance(shape, Lettering):
        return _lettered(shape)
    name = f' id="{svg_text(shape.name)}"' if shape.name else ""
    if isinstance(shape, Disc):
        x, y = _spot(shape.center).split()
        return f'<circle class="{shape.ink}"{name} cx="{x}" cy="{y}" r="{shape.radius:.4f}"/>'
    return f'<path class="{shape.ink}"{name} d="{_way(shape)}"/>'


def _way(shape: Trace) -> str:
    return f"M{'L'.join(map(_spot, shape.spots))}{'Z' if shape.closed else ''}"


def _lettered(shape: Lettering) -> str:
    x, y = _spot(shape.at).split()
    kind = f"{shape.anchor} heavy" if shape.bold else f"{shape.anchor}"
    turned = f' transform="rotate({shape.turned:g} {x} {y})"' if shape.turned else ""
    return f'<text class="{kind}" x="{x}" y="{y}" font-size="{shape.size:g}"{turned}>{svg_text(shape.text)}</text>'


def _spot(spot: Spot) -> str:
    return f"{spot[0]:.4f} {spot[1]:.4f}"
