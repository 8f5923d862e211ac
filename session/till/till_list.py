"""What the till has to offer: interrupted sharpenings first, then forms that were begun, one's own saws, supplied ones.

Logs that may only be looked at are named as well.
"""

from __future__ import annotations

from pathlib import Path

from session.files.recipe import load_recipe
from session.files.saw_names import name_inside
from session.files.settings import Settings
from session.files.supplied import SUPPLIED, supplied_recipes
from session.log.log_reader import LogEnds
from session.log.sitting import Sitting
from session.machine.clean_text import clean
from session.machine.clock import Clock
from session.machine.refusal import Refusal
from session.machine.untrusted_text import told_of
from session.till.begun_forms import begun_forms
from session.till.till_folder import Till, slug
from session.value_class import dataclass, field
from session.walk.work_plan import make_plan


@dataclass(frozen=True, slots=True)
class Entry:
    """One line of the till.

    words: what it says. recipe: the recipe to start from, or None. log: the log that is not finished, or None.
    wrong: why it cannot be opened, else empty. own: the saw's name when it is one of the till's own. form: whether it
    is a form that was left, for a new saw or to change ``recipe``. name: the saw's name, whosever it is, as far as it
    is known.
    """

    words: str
    recipe: Path | None = None
    log: Path | None = None
    wrong: str = ""
    own: str = ""
    form: bool = False
    name: str = field(default="", compare=False)


def entries(till: Till) -> list[Entry]:
    """All that can be opened, in the order of need. A file that cannot be read is listed with its reason.

    A log that may only be looked at stands after the saws, as a copy does: it waits for nothing, but is not passed over
    in silence.
    """
    logs = till.unfinished()
    found = [_interrupted(ends) for ends in logs if ends.odd is None]
    found += _own_saws_after_forms(till)
    found += [_odd(ends) for ends in logs if ends.odd is not None]
    found += [Entry(f"A COPY  {clean(path.name)}", wrong=told_of(path, words)) for path, words in till.copies()]
    found += _recorded_first(till, [_saw(path, f"{SUPPLIED} ") for path in supplied_recipes()])
    found += _retired(till)
    return found


def saw_entries(till: Till) -> list[Entry]:
    """The saws alone, one's own and the supplied ones: no longer to read however many records there are."""
    return _own_saws_after_forms(till) + [_saw(path, f"{SUPPLIED} ") for path in supplied_recipes()]


def _recorded_first(till: Till, supplied: list[Entry]) -> list[Entry]:
    """The supplied saws, those that have records before those that nobody worked on."""
    try:
        recorded = set(till.log_folders())
    except Refusal:
        return supplied
    return sorted(supplied, key=lambda entry: slug(entry.name) not in recorded)


def _retired(till: Till) -> list[Entry]:
    """The saws that were laid aside: listed apart, with the way back."""
    try:
        names = [name_inside(path) or path.stem for path in till.retired()]
    except Refusal as wrong:
        return [Entry("RETIRED SAWS cannot be read", wrong=str(wrong))]
    return [
        Entry(f"retired: {name}", wrong=f"{name} is retired: toothline retire {slug(name)} --back") for name in names
    ]


def _own_saws_after_forms(till: Till) -> list[Entry]:
    try:
        forms = [Entry(form.words, recipe=form.recipe, form=True, name=form.name) for form in begun_forms(till)]
        return forms + [_saw(path, "", own=True) for path in till.saws()]
    except Refusal as wrong:
        return [Entry("THE TILL cannot be read", wrong=str(wrong))]


def open_entry(till: Till, entry: Entry, clock: Clock, settings: Settings) -> Sitting:
    """Start or resume what ``entry`` stands for. Raises ValueError saying why it cannot be."""
    if entry.wrong:
        raise ValueError(entry.wrong)
    if entry.log is not None:
        return Sitting.resume(entry.log, clock)
    if entry.recipe is None:
        raise ValueError("there is nothing to open here")
    return begin(till, entry.recipe, clock, settings)


def begin(till: Till, recipe_file: Path, clock: Clock, settings: Settings) -> Sitting:
    """Begin a sharpening of the saw in ``recipe_file``, in its own log folder of the till."""
    recipe = load_recipe(recipe_file)
    plan = make_plan(recipe.saw, check_spacing=settings.check_spacing)
    return Sitting.start(till.log_folder(slug(recipe.saw.name)), recipe, plan, clock)


def _interrupted(ends: LogEnds) -> Entry:
    last, where = ends.last, ""
    if last is not None:
        tooth = f" {last.tooth}" if last.tooth else ""
        where = f", last mark {last.at:%d %b %H:%M}: {last.stage or last.did}{tooth}"
    return Entry(f"INTERRUPTED  {_name(ends)}{where}", log=ends.path, name=_name(ends))


def _odd(ends: LogEnds) -> Entry:
    file, odd = clean(ends.path.name), str(ends.odd)
    if not ends.header:
        return Entry(f"NOT READ  {clean(ends.path.parent.name)}/{file}", log=ends.path, wrong=told_of(ends.path, odd))
    wrong = f"{told_of(ends.path, odd)}; it can be looked at: toothline show"
    return Entry(f"READ ONLY  {_name(ends)}: {file}", log=ends.path, wrong=wrong)


def _name(ends: LogEnds) -> str:
    session = ends.header.get("session")
    saw = session.get("saw") if isinstance(session, dict) else None
    return clean(str(saw or ends.path.parent.name))


def _saw(path: Path, prefix: str, *, own: bool = False) -> Entry:
    try:
        saw = load_recipe(path).saw
    except Refusal as wrong:
        return Entry(f"{prefix}{clean(path.name)}: not in order", recipe=path, wrong=str(wrong))
    words = f"{prefix}{saw.name}  {saw.cut} · {saw.count_as} · {saw.toothed_length}"
    return Entry(words, recipe=path, own=saw.name if own else "", name=saw.name)
