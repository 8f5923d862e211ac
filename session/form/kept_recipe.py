"""A saw's recipe changed by the program: its comments, its order and every key that was not meant stay as they are."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any, Final

import tomlkit
from tomlkit.exceptions import TOMLKitError

from session.files.checked_file import CheckedFile
from session.files.recipe import Recipe, load_recipe, recipe_from_values
from session.files.recipe_tables import RecipeModel
from session.form.form_fields import KEYS_OF, FormField
from session.machine.disk import REAL, Disk, why
from session.machine.lock import LockHeld, LogLock
from session.machine.new_file import place_file
from session.machine.refusal import DISK, Refusal
from session.machine.replaced_file import replace_file
from session.machine.untrusted_text import parse, read_text, shown
from session.till.known_saws import KnownSaw, known_saws
from session.till.moved_file import moved_into
from session.till.saw_file_name import file_stem, slug
from session.till.till_folder import Till
from session.till.till_names import RETIRED


class KeptRecipe:
    """A recipe of a till as it stood when it was opened."""

    def __init__(self, path: Path) -> None:
        """Read and check the file. Raises Refusal for one that is not in order: that is mended by hand."""
        self.path: Final = path
        self.recipe: Final[Recipe] = load_recipe(path)
        self.text: Final = read_text(path)

    @property
    def values(self) -> dict[str, Any]:
        """What stands in it, nothing filled in."""
        return parse(self.text)

    def changed(self, fields: Mapping[FormField, Any], values: Mapping[str, Any]) -> str:
        """The file's text with the keys of ``fields`` as ``values`` has them. Raises Refusal when it is no recipe then.

        A name that is replaced is kept among the former ones, so that the records follow.
        """
        text = self.text
        for field in fields:
            for table, key in KEYS_OF.get(field, ()):
                value = values.get(table, {}).get(key)
                text = renamed(text, str(value)) if field is FormField.NAME else _with(text, table, key, value)
        return self.checked(text)

    def write(self, text: str, disk: Disk = REAL) -> None:
        """Put ``text`` in the file's place, whole. Raises Refusal when somebody else changed it meanwhile."""
        try:
            with LogLock.take(self.path, disk):
                if read_text(self.path) != self.text:
                    raise Refusal(f"{shown(self.path)}: it was changed meanwhile by another hand; open it again")
                replace_file(self.path, text.encode("utf-8"), disk)
        except OSError as problem:
            raise Refusal(f"{shown(self.path)}: it was not changed: {why(problem)}", DISK) from None

    def checked(self, text: str) -> str:
        """``text`` itself when it is a recipe. Raises Refusal with what is wrong with it."""
        file = CheckedFile(RecipeModel, parse(text), shown(self.path), text)
        file.sound()
        recipe_from_values(file.values)
        return text


def renamed(text: str, name: str) -> str:
    """The recipe ``text`` of a saw that is called ``name`` from now on; the name before is kept as a former one."""
    doc = _document(text)
    saw = doc["saw"]
    before = [str(saw["name"]), *map(str, saw.get("formerly", []))]
    text = _with(text, "saw", "name", name)
    former = [one for one in dict.fromkeys(before) if one != name]
    return _with(text, "saw", "formerly", former or None)


def copied(text: str, name: str) -> str:
    """The recipe ``text`` for another saw called ``name``: it has no records, and no names of before."""
    return _with(_with(text, "saw", "name", name), "saw", "formerly", None)


def hang_copy(till: Till, source: Path, name: str, disk: Disk = REAL) -> Path:
    """A new saw called ``name`` with the recipe of ``source``, comments and all; its new file. Raises Refusal."""
    refuse_taken(till, name)
    text = copied(KeptRecipe(source).text, name)
    CheckedFile(RecipeModel, parse(text), f"a saw called {name}", text).sound()
    return place_new(till, file_stem(name), text, disk)


def place_new(till: Till, stem: str, text: str, disk: Disk = REAL) -> Path:
    """A new file of ``till`` holding ``text``, named ``stem``, with a number where that is taken. Raises Refusal."""
    try:
        for number in range(1, 100):
            path = till.path / f"{stem}{f'-{number}' if number > 1 else ''}.toml"
            try:
                lock = LogLock.take(path, disk)
            except LockHeld:
                # Another program is just hanging up a saw under that name.
                continue
            with lock:
                if place_file(path, text.encode("utf-8"), disk):
                    return path
    except OSError as problem:
        raise Refusal(f"{shown(till.path)}: the saw was not hung up: {why(problem)}", DISK) from None
    raise Refusal(f"{shown(till.path)}: the saw was not hung up: every name is taken", DISK)


def taken_by(till: Till, name: str, but: Path | None = None) -> KnownSaw | None:
    """The saw of ``till`` that has the name, or had it and keeps its records under it; never the one in ``but``."""
    key = slug(name)
    saws = [saw for saw in known_saws([till]) if saw.recipe is not None and saw.recipe != but]
    return next((saw for saw in saws if key in saw.slugs), None)


def refuse_taken(till: Till, name: str, but: Path | None = None) -> None:
    """Raise Refusal when another saw has the name, or had it."""
    if (saw := taken_by(till, name, but)) is not None:
        raise Refusal(f'"{name}" is the name of a saw of this till: {saw.called}; allowed: another name')


def retire(till: Till, saw: KnownSaw, disk: Disk = REAL) -> Path:
    """Lay the recipe of ``saw`` with those of retired saws; its new file. Records stay. Raises Refusal."""
    if saw.recipe is None or saw.retired:
        raise Refusal(f"{saw.called}: no recipe of it hangs in this till")
    waiting = [log for folder in saw.slugs for log in till.interrupted(folder) if log.parent.name == folder]
    if waiting:
        raise Refusal(
            f"{saw.name}: a sharpening of it waits ({waiting[0].name}); end it first: toothline resume {saw.slug}, "
            f"or give it up: toothline resume {saw.slug} --give-up"
        )
    return moved_into(till.path / RETIRED, saw.recipe, "moved", disk)


def take_back(till: Till, saw: KnownSaw, disk: Disk = REAL) -> Path:
    """Hang a retired saw up again; its new file. Raises Refusal."""
    if saw.recipe is None or not saw.retired:
        raise Refusal(f"{saw.called}: it is not retired")
    return moved_into(till.path, saw.recipe, "moved", disk)


def _document(text: str) -> tomlkit.TOMLDocument:
    try:
        return tomlkit.parse(text)
    except (TOMLKitError, ValueError, RecursionError) as problem:
        raise Refusal(f"the recipe cannot be changed by the program: {problem}; change it by hand") from None


def _with(text: str, table: str, key: str, value: Any) -> str:
    """``text`` with a key set, or taken out where ``value`` is None; nothing else of it is touched."""
    doc = _document(text)
    held: Any = doc.get(table)
    if value is None:
        if held is not None and key in held:
            del held[key]
        return tomlkit.dumps(doc)
    plain = int(value) if isinstance(value, float) and value.is_integer() else value
    plain = str(plain) if isinstance(plain, str) else plain
    if held is None:
        doc[table] = {key: plain}
    elif held.get(key) != plain:
        held[key] = plain
    return tomlkit.dumps(doc)
