"""Which saw a person means, among those that tills hold recipes, logs, cuts or lines of."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from session.files.saw_names import LONGEST_SHOWN, begun_by, name_inside, names_inside, plain_name
from session.machine.clean_text import clean
from session.machine.refusal import Refusal
from session.till.copy_names import first_folder
from session.till.record_place import is_folder
from session.till.saw_file_name import slug
from session.till.till_folder import Till
from session.till.till_names import CUTS, LINES
from session.value_class import dataclass, replace


@dataclass(frozen=True, slots=True)
class KnownSaw:
    """A saw of a till.

    slug: the name of its folders of logs, cuts and lines. name: as written in its recipe, else the slug.
    recipe: its recipe in the till, None when only records of it are there. former: the names that it had before; what
    was recorded under them is its own. retired: whether its recipe lies with those of retired saws.
    """

    slug: str
    name: str
    recipe: Path | None = None
    former: tuple[str, ...] = ()
    retired: bool = False

    @property
    def slugs(self) -> tuple[str, ...]:
        """The names of its folders, those of its former names last."""
        return tuple(dict.fromkeys((self.slug, *map(slug, self.former))))

    @property
    def called(self) -> str:
        """Its name, with the names of before, and whether it is retired."""
        before = f", formerly {', '.join(self.former)}" if self.former else ""
        return f"{self.name}{before}{', retired' if self.retired else ''}"


def known_saws(tills: Sequence[Till]) -> list[KnownSaw]:
    """Every saw of ``tills`` once, by slug; the recipe is that of the first till with one. Raises Refusal."""
    found: dict[str, KnownSaw] = {}
    for till in tills:
        recipes = [*((recipe, False) for recipe in till.saws()), *((recipe, True) for recipe in till.retired())]
        for recipe, retired in recipes:
            inside, *before = names_inside(recipe)
            name = inside or recipe.stem
            found.setdefault(slug(name), KnownSaw(slug(name), name, recipe, tuple(before), retired))
    # A name that another saw has by now is that saw's, and so are the records under it.
    for key, saw in list(found.items()):
        found[key] = replace(saw, former=tuple(name for name in saw.former if slug(name) not in found))
    owned = {one for saw in found.values() for one in saw.slugs}
    for till in tills:
        kept = [folders(till.path / kind) for kind in (CUTS, LINES)]
        for folder in (
            *till.log_folders(),
            *(name for some in kept for name in some if first_folder(name, some) == name),
        ):
            if folder not in owned:
                found.setdefault(folder, KnownSaw(folder, clean(folder)))
    return [found[key] for key in sorted(found)]


def saw_named(till: Till, name: str) -> KnownSaw:
    """The saw of ``till`` that is called ``name`` by its recipe, with the names of before; else one of that name alone.
    Raises Refusal."""
    key = slug(name)
    return next((saw for saw in known_saws([till]) if saw.slug == key), KnownSaw(key, name))


def saws_called(saws: Sequence[KnownSaw], text: str) -> list[KnownSaw]:
    """Those of ``saws`` that ``text`` may mean: by name, recipe file or folder, else by the beginning of one.

    Capitals, spaces and hyphens make no difference, unless they alone tell two saws apart. A file that lies anywhere
    means the saw of the name written in it.
    """
    if text.endswith(".toml") and "\0" not in text:
        text = name_inside(Path(text)) or Path(text).stem
    wanted, folder = plain_name(text), slug(text)
    by_name = [saw for saw in saws if text in _names(saw) or folder == saw.slug]
    return by_name or [saw for saw in saws if wanted in _plain_names(saw)] or begun_by(text, saws, _names)


def find_saw(saws: Sequence[KnownSaw], text: str) -> KnownSaw:
    """The one of ``saws`` that ``text`` means. Raises Refusal, naming those near it, or those that it may mean."""
    wanted, shown = plain_name(text), clean(text)[:LONGEST_SHOWN]
    if found := saws_called(saws, text):
        return only_saw(found, text)
    from difflib import get_close_matches

    near = get_close_matches(wanted[:200], [name for saw in saws for name in _plain_names(saw)], n=5, cutoff=0.5)
    close = [saw for saw in saws if not _plain_names(saw).isdisjoint(near)]
    if not saws:
        raise Refusal(f'no saw is named "{shown}": this till holds none yet')
    told = f"near it: {_listed(close)}" if close else f"known: {_listed(saws)}"
    raise Refusal(f'no saw of this till is named "{shown}"; {told}')


def only_saw(found: Sequence[KnownSaw], text: str) -> KnownSaw:
    """The one that was found by ``text``. Raises Refusal when there are more, naming them."""
    if len(found) == 1:
        return found[0]
    raise Refusal(f'several saws are meant by "{clean(text)[:LONGEST_SHOWN]}"; allowed: one of {_listed(found)}')


def folders(path: Path) -> list[str]:
    """Names of the folders in ``path``; none when it is not there or cannot be read."""
    try:
        return sorted(
            entry.name for entry in path.iterdir() if not entry.name.startswith(".") and is_folder(entry) is not False
        )
    except OSError:
        return []


def _names(saw: KnownSaw) -> set[str]:
    return {saw.slug, saw.name, *saw.former, *([saw.recipe.stem] if saw.recipe is not None else [])}


def _plain_names(saw: KnownSaw) -> set[str]:
    return {plain for name in _names(saw) if (plain := plain_name(name))}


def _listed(saws: Sequence[KnownSaw]) -> str:
    return ", ".join(clean(saw.slug) for saw in saws[:20]) + (f" and {len(saws) - 20} more" if len(saws) > 20 else "")
