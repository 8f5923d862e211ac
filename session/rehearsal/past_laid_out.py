"""The demo's workshop laid out in a till: its saws, its files, and the records of two years that end today."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Final
from zipfile import BadZipFile, ZipFile

from session.files.supplied import supplied_folder
from session.machine.refusal import DISK, Refusal
from session.rehearsal.past_dates import moved, name_moved
from session.till.till_names import FILES_OWNED, RETIRED

#: The archive with the records, in the demo folder.
PACK: Final = "past.zip"

#: The day that the packed records lead up to.
MADE_FOR: Final = date(2026, 6, 1)

#: The files of the workshop, as its `files.toml` lists them. Faces and corners are invented.
FILES: Final = """# The saw files of the invented workshop; teeth_filed: what each corner filed before the records.
format = 1

[[file]]
name = "5 in extra slim"
face = "0.2 in"

[[file]]
name = "5 in slim"
face = "0.26 in"

[[file]]
name = "6 in slim"
face = "0.3 in"
corner_radius = "0.1 mm"
teeth_filed = [140, 0, 0]

[[file]]
name = "7 in slim"
face = "0.34 in"

[[file]]
name = "8 in taper"
face = "0.48 in"
teeth_filed = [120, 0, 0]
"""


def lay_out(folder: Path, today: date, *, past: bool = True) -> None:
    """Put the workshop's saws into ``folder``, and with ``past`` its records up to ``today``; a file already there is
    left as it is. Raises Refusal when they cannot be written."""
    demo = supplied_folder("demo")
    try:
        files = {recipe.name: recipe.read_bytes() for recipe in sorted(demo.glob("*.toml"))}
        if past:
            files |= {
                f"{RETIRED}/{recipe.name}": recipe.read_bytes() for recipe in sorted(demo.glob(f"{RETIRED}/*.toml"))
            }
            files |= {FILES_OWNED: FILES.encode("utf-8")}
            files |= _records(demo / PACK, (today - MADE_FOR).days)
        for name, data in files.items():
            target = folder / name
            target.parent.mkdir(parents=True, exist_ok=True)
            if not target.exists():
                target.write_bytes(data)
    except (OSError, BadZipFile) as wrong:
        why = wrong.strerror if isinstance(wrong, OSError) and wrong.strerror else wrong
        raise Refusal(f"{folder}: the demo cannot be laid out there: {why}", DISK) from None


def _records(pack: Path, days: int) -> dict[str, bytes]:
    """The packed records by their paths in a till, ``days`` later than they were made for."""
    with ZipFile(pack) as archive:
        return {
            f"{name.rpartition('/')[0]}/{name_moved(name.rpartition('/')[2], days)}": moved(archive.read(name), days)
            for name in archive.namelist()
        }
