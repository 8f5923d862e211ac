"""The past of the demo's workshop: two invented years of it, made once and packed beside its saws.

`python -m session.rehearsal.workshop_past` makes the pack anew; a test holds it against what is made now.
"""

from __future__ import annotations

from collections.abc import Mapping
from hashlib import sha256
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Final
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

from session.files.supplied import supplied_folder
from session.rehearsal.past_laid_out import FILES, PACK
from session.rehearsal.saw_story import SawStory, live
from session.till.till_folder import Till
from session.till.till_names import FILES_OWNED, RETIRED

#: What became of each saw, as of the day that the stories lead up to.
STORIES: Final = (
    SawStory(
        recipe="netloft-panel-saw.toml",
        seed=3,
        days_ago=(702, 548, 401, 259, 114),
        cut_days=(21, 63, 101),
        lost_a_day=0.0021,
    ),
    # Due for set.
    SawStory(recipe="oar-loft-crosscut-saw.toml", seed=16, days_ago=(520, 171), cut_days=(45, 120), lost_a_day=0.0012),
    # Uneven.
    SawStory(
        recipe="slipway-rip-saw.toml",
        seed=20,
        days_ago=(611, 340, 77),
        cut_days=(30, 150),
        lost_a_day=0.001,
        alternate=0.12,
    ),
    # Due now.
    SawStory(
        recipe="mast-house-tenon-saw.toml",
        seed=24,
        days_ago=(540, 300, 130),
        cut_days=(20, 60, 110),
        lost_a_day=0.0026,
    ),
    # Left in the middle of it.
    SawStory(recipe="sail-room-dovetail-saw.toml", seed=6, days_ago=(3,), left_at=40),
    # Laid aside.
    SawStory(recipe=f"{RETIRED}/quay-hand-saw.toml", seed=13, days_ago=(690, 505), cut_days=(50,), lost_a_day=0.001),
)


def made(story: SawStory) -> dict[str, bytes]:
    """The files of ``story``'s records, by their paths in a till: logs and trial cuts."""
    with TemporaryDirectory(prefix="toothline-past-") as folder:
        till, recipe = Till(Path(folder)), supplied_folder("demo") / story.recipe
        (till.path / FILES_OWNED).write_text(FILES, encoding="utf-8")
        (till.path / Path(story.recipe).name).write_bytes(recipe.read_bytes())
        live(story, recipe, till)
        records = sorted(path for path in till.path.glob("*/*/*.toml"))
        return {f"{path.parent.relative_to(till.path).as_posix()}/{_name(path)}": path.read_bytes() for path in records}


def _name(record: Path) -> str:
    """The record's file name with signs of its own content: those that the program gives depend on the machine."""
    return f"{record.stem[:19]}-{sha256(record.read_bytes()).hexdigest()[:6]}.toml"


def pack(records: Mapping[str, bytes], path: Path) -> None:
    """Write ``records`` into a new archive at ``path``, the same bytes for the same records."""
    with ZipFile(path, "w", ZIP_DEFLATED, compresslevel=9) as archive:
        for name in sorted(records):
            archive.writestr(ZipInfo(name), records[name], ZIP_DEFLATED, 9)


def main() -> None:
    """Make the pack in the checkout anew."""
    records: dict[str, bytes] = {}
    for story in STORIES:
        records |= made(story)
        print(story.recipe, len(records), "records")
    pack(records, supplied_folder("demo") / PACK)


if __name__ == "__main__":
    main()
