"""A page, or several below one another, as an SVG document, true to scale: its view box counts millimeters of paper."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from session.prints.drawn_shapes import PENS, Anchor, Disc, Lettering, Shape, Spot, Trace
from session.prints.page_sheets import MARGIN, PageSheet
from session.prints.svg_text import svg_text
from session.trade.rounding import whole_number

_FONTS: Final = "'Bitstream Vera Sans','DejaVu Sans',Verdana,sans-serif"


#: What stands between two pages of one document, in mm.
_GAP: Final = 6.0


def svg_sheet(sheet: PageSheet) -> str:
    """The document of one page."""
    return svg_sheets(sheet.title, (sheet,))


def svg_sheets(title: str, sheets: Sequence[PageSheet]) -> str:
    """The document of all ``sheets``, one below another, each as large as its paper; at least one."""
    sizes = [sheet.stock.size_mm(sheet.lying) for sheet in sheets]
    wide, high = max(wide for wide, _ in sizes), sum(high for _, high in sizes) + _GAP * (len(sizes) - 1)
    pages, top = [], 0.0
    for sheet, size in zip(sheets, sizes, strict=True):
        pages.append(_page(sheet, *size, top))
        top += size[1] + _GAP
    return (
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide:g}mm" height="{high:g}mm" '
        f'viewBox="0 0 {wide:g} {high:g}">\n'
        f"<title>{svg_text(title)}</title>\n<style>{_style()}</style>\n{''.join(pages)}</svg>\n"
    )


def _page(sheet: PageSheet, wide: float, high: float, top: float) -> str:
    body = "\n".join(map(_drawn, sheet.shapes))
    return (
        f'<rect y="{top:g}" width="{wide:g}" height="{high:g}" fill="#fff"/>\n'
        f'<g transform="translate({MARGIN:g} {top + MARGIN:g}) scale({sheet.stock.scale:.8g})">\n{body}\n</g>\n'
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
    path = f'<path class="{shape.ink}"{name} d="{_way(shape)}"/>'
    return f"<g><title>{svg_text(shape.said)}</title>{path}</g>" if shape.said else path


def _way(shape: Trace) -> str:
    return f"M{'L'.join(map(_spot, shape.spots))}{'Z' if shape.closed else ''}"


def _lettered(shape: Lettering) -> str:
    x, y = _spot(shape.at).split()
    kind = f"{shape.anchor} heavy" if shape.bold else f"{shape.anchor}"
    turned = f' transform="rotate({shape.turned:g} {x} {y})"' if shape.turned else ""
    return f'<text class="{kind}" x="{x}" y="{y}" font-size="{shape.size:g}"{turned}>{svg_text(shape.text)}</text>'


def _spot(spot: Spot) -> str:
    return f"{spot[0]:.4f} {spot[1]:.4f}"
