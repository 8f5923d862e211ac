"""Logs and cuts of one saw, written as the program writes them, and the history that they make."""

from datetime import UTC, datetime, timedelta
from functools import cache
from pathlib import Path
from typing import Any

from session.files.cut_file import RecordedCut
from session.files.recipe import Recipe, load_recipe
from session.files.supplied import supplied_folder
from session.log.log_bytes import make_header
from session.log.mark_block import encode
from session.log.summary import closing
from session.till.known_saws import KnownSaw
from session.till.saw_history import SawHistory, history
from session.till.till_folder import Till
from session.trade.lengths import parse_length
from session.walk.account import Account
from session.walk.mark import Did, Mark
from session.walk.stages import Stage
from session.walk.work_plan import make_plan

DAY0 = datetime(2026, 3, 7, 9, 0, tzinfo=UTC)


SLUG = "crosscut-panel-saw"


SAW = KnownSaw(SLUG, "Crosscut panel saw")


@cache
def recipe() -> Recipe:
    return load_recipe(supplied_folder("recipes") / "crosscut-panel.toml")


def header_of(begun: datetime, name: str = "Crosscut panel saw") -> dict[str, Any]:
    return {
        "session": {"started": begun, "program": "toothline 0.1.0", "saw": name},
        "recipe": recipe().values,
        "plan": make_plan(recipe().saw).to_dict(),
    }


def numbered(fields: list[dict[str, Any]], begun: datetime) -> list[Mark]:
    return [Mark(seq=n, at=begun + timedelta(seconds=9 * n), **one) for n, one in enumerate(fields, 1)]


def filed(teeth: int, strokes: int = 2) -> list[dict[str, Any]]:
    return [
        {"did": Did.DONE, "stage": Stage.FILE, "side": 1 if n % 2 else 2, "tooth": n, "strokes": strokes, "by": "key"}
        for n in range(1, teeth + 1)
    ]


def leveled(grades: list[int], passes: int = 2) -> list[dict[str, Any]]:
    made = [{"did": Did.DONE, "stage": Stage.LEVEL, "number": n, "by": "key"} for n in range(1, passes + 1)]
    return made + [
        {"did": Did.DONE, "stage": Stage.LEVEL, "tooth": tooth, "value": grade, "unit": "grade"}
        for tooth, grade in enumerate(grades, 1)
    ]


def measured(what: str, value: Any, unit: str | None = None) -> dict[str, Any]:
    return {"did": Did.MEASURED, "stage": Stage.LOOK_OVER, "what": what, "value": value, "unit": unit}


def proved(area_mm2: float) -> list[dict[str, Any]]:
    return [
        measured("cut length", 300.0, "mm"),
        measured("cut thickness", area_mm2 * 40 / 300.0, "mm"),
        measured("cut strokes", 40, "strokes"),
        measured("trial cut", "good"),
    ]


def write_log(till: Path, begun: datetime, fields: list[dict[str, Any]], *, finished: bool = True) -> Path:
    marks = numbered(fields, begun)
    if finished:
        end = Mark(seq=len(marks) + 1, at=begun + timedelta(seconds=9 * len(marks) + 9), did=Did.FINISHED)
        marks.append(closing(Account.of(marks), end))
    path = till / "logs" / SLUG / f"{begun:%Y-%m-%dT%H-%M-%S}-abcdef.toml"
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(make_header(header_of(begun)) + b"".join(encode(mark)[0] for mark in marks))
    return path


def a_cut(at: datetime, area_mm2: float = 150.0) -> RecordedCut:
    length, thickness = parse_length("300 mm"), parse_length(f"{area_mm2 * 40 / 300} mm")
    return RecordedCut(
        at=at, saw=SAW.name, length=length, thickness=thickness, strokes=40, wood=recipe().saw.wood, note="on the pier"
    )


def told(*tills: Path) -> SawHistory:
    return history([Till(till) for till in tills], SAW)
