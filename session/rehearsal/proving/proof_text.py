"""The proof's figures as text: a table for a terminal and for a page, and the targets met or missed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from session.rehearsal.proving.proof_figures import MEASURES, Measure, ProofFigure, Target

Table = Mapping[str, Mapping[str, Mapping[str, ProofFigure | None]]]


def table_text(table: Table) -> str:
    """The table in Markdown: a row a measure, a column for each person and way."""
    heads = [(person, way) for person, by_way in table.items() for way in by_way]
    rows = [["", *(f"{person}, {way}" for person, way in heads)]]
    for measure in MEASURES:
        told = [_told(table[person][way][measure.name], measure) for person, way in heads]
        rows.append([f"{measure.name}, {measure.unit}", *told])
    lines = [f"| {' | '.join(row)} |" for row in rows]
    lines.insert(1, f"|{'---|' * len(rows[0])}")
    return "\n".join(lines)


def targets_text(targets: Sequence[Target]) -> str:
    """The targets, a line each."""
    words = {True: "met", False: "MISSED", None: "not told"}
    return "\n".join(f"- {words[target.met]}: {target.name}: {target.found}" for target in targets)


def _told(figure: ProofFigure | None, measure: Measure) -> str:
    if figure is None:
        return "–"
    digits = measure.digits
    return f"{figure.value:.{digits}f} ({figure.least:.{digits}f}–{figure.most:.{digits}f})"
