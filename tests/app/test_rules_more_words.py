"""Bench rules 2, 7 and 14: cautions without orders, one action a line, no state by color alone, a pause in place."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from itertools import cycle, pairwise

import pytest
from textual.strip import Strip

from at_the_terminal import drawn_rows
from bench_person import Person
from bench_shed import Shed
from own_plan import keep_plan
from session.bench.screens.prompt import Prompt
from session.desk.desk import Desk
from session.desk.key_names import shown
from session.desk.key_table import USUAL_KEYS
from session.files.settings import Settings
from session.log.sitting import Sitting
from session.machine.clock import SetClock
from session.sentences.offers import Act
from session.sentences.saying import Saying
from session.texts.cautions import caution
from session.texts.word_files import entry, table
from session.walk.front_question import Ask, Front
from session.walk.stages import FACTS, Stage
from sought import sought

#: Verbs that an instruction may begin with: each is one thing to do at the bench.
VERBS = frozenset(
    {"answer", "bend", "brush", "change", "clamp", "close", "count", "file", "find", "finish", "go", "grade", "grip"}
    | {
        "lay",
        "leave",
        "look",
        "pull",
        "push",
        "put",
        "read",
        "saw",
        "say",
        "set",
        "shift",
        "sight",
        "slide",
        "stone",
        "try",
        "turn",
        "wipe",
    }
)


def whole_walk(sitting: Sitting, clock: SetClock) -> Iterator[tuple[Front, Saying]]:
    """What is said at each moment of a sharpening with reshaping and graded flats."""
    hands, grades = Desk(sitting), cycle((2, 2, 3, 1, 0, 4, 2))
    while True:
        clock.pass_s(3)
        now, place = sitting.state.front, sitting.state.place
        yield now, hands.moment.said
        if now.ask is Ask.FINISHED:
            return
        if now.ask.holds:
            reply = hands.act(Act.AGREE)
        elif place is None or now.ask is not Ask.WORK:
            reply = hands.act(Act.DONE)
        elif place.step == "plan" and Stage.RESHAPE not in sitting.state.taken_in:
            keep_plan(sitting)
            reply = hands.act(Act.STROKES, 2)
        elif place.stage is Stage.LEVEL and place.step:
            reply = hands.act(Act.STROKES, 1 if sitting.state.flats else 3)
        elif place.stage is Stage.LEVEL and place.tooth:
            reply = hands.act(Act.STROKES, next(grades))
        else:
            reply = hands.act(Act.DONE)
        assert not reply.refused, reply


def actions(instruction: str) -> list[str]:
    """The verbs at the head of the clauses of an instruction; what only says when to stop is no action of its own."""
    text = re.sub(r" (Stop\b[^.]*|Leave the low points low)\.$", "", instruction)
    text = text.replace("saw set and stone", "tools")
    clauses = re.split(r"[:;.?] | and |,? then |, do ", re.sub(r"^(If|When) [^,]*, ", "", text))
    heads = [clause.split()[0].lower() for clause in clauses if clause.split()]
    counted = ["stroke" for clause in clauses if re.match(r"((About )?\d+|Light) strokes?\b|Lightly\b", clause)]
    return [head for head in heads if head in VERBS] + counted


def test_rule_02_no_action_hides_in_a_caution() -> None:
    keys = {shown(key) for keys in USUAL_KEYS.values() for key in keys if len(shown(key)) > 1} | {"press"}
    for name in table("cautions"):
        told = caution(name)
        text = f"{told.hazard} {told.consequence} {told.avoid}"
        assert not [key for key in keys if re.search(rf"(?<!\w){re.escape(key)}(?!\w)", text)], name
        assert not re.search(r"\b(next step|go on|this gullet|this tooth|stroke count|pass \d)\b", text), name
        # What endangers and what follows are told, not ordered; only the last sentence says what to do against it.
        assert actions(told.hazard) == actions(told.consequence) == [], name


def test_rule_02_a_caution_stands_alone_without_the_work_of_its_step(shed: Shed) -> None:
    sitting = shed.sitting()
    work = set()
    cautions = []
    for now, said in whole_walk(sitting, shed.clock):
        if now.ask is Ask.CAUTION:
            cautions.append(said)
        elif now.ask is Ask.WORK:
            work |= {said.instruction, said.title, *said.lines}
    assert (
        len(cautions) == len({said.lines for said in cautions}) == len({c for f in FACTS.values() for c in f.cautions})
    )
    for said in cautions:
        assert not work & {said.instruction, said.title, *said.lines}
        assert said.instruction == "When this is understood, answer “understood”."


def test_rule_02_one_action_a_step_verb_first_condition_before(shed: Shed) -> None:
    said = {text.instruction for now, text in whole_walk(shed.sitting(), shed.clock) if now.ask is not Ask.FINISHED}
    assert len(said) > 40
    for instruction in sorted(said):
        if instruction.startswith("No stroke here"):
            continue
        found = actions(instruction)
        assert len(found) == 1, (instruction, found)


@pytest.mark.parametrize(
    ("instruction", "found"),
    [
        ("Turn the saw and clamp it.", ["turn", "clamp"]),
        ("File the gullet. Wipe the file.", ["file", "wipe"]),
        ("About 2 strokes, file level. Stop when the flat just goes.", ["stroke"]),
        ("If it is cracked, put it by.", ["put"]),
    ],
)
def test_the_count_of_actions_itself(instruction: str, found: list[str]) -> None:
    assert actions(instruction) == found


async def shots(shed: Shed, person: Person) -> dict[str, list[Strip]]:
    """The strips of unlike moments of one sharpening, by name."""

    def strips() -> list[Strip]:
        person.rows()
        return drawn_rows(person.app)

    # Opened anew, the cautions are asked again before the work goes on.
    await person.press("y")
    found = {"caution": strips()}
    await person.go_on(lambda p: p.boxes()[0][1] == "done")
    found["work"] = strips()
    await person.press("space", "space", after_s=0.1)
    found["refused"] = strips()
    await person.press("l", "2")
    found["left out"] = strips()
    await person.press("full_stop")
    found["flagged"] = strips()
    await person.press("l")
    found["question"] = strips()
    await person.press("escape", "escape")
    found["paused"] = strips()
    await person.press("escape")
    found["find the place"] = strips()
    await person.press("y")
    await person.go_on(lambda p: p.boxes()[0][1] == "agrees")
    found["check"] = strips()
    await person.go_on(lambda p: p.boxes()[0][1] == "yes, done")
    found["turn"] = strips()
    await person.press("y")
    found["turned"] = strips()
    return found


def texts(found: dict[str, list[Strip]]) -> dict[str, list[str]]:
    return {name: [strip.text for strip in strips] for name, strips in found.items()}


@pytest.mark.wide
async def test_rule_07_without_color_no_color_is_sent_and_every_word_stays(
    shed: Shed, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    async with shed.program(shed.reopened(shed.at("file", side=1)), environment={"NO_COLOR": "1"}) as person:
        plain = await shots(shed, person)
    monkeypatch.delenv("NO_COLOR")
    colored = {
        str(color)
        for strips in plain.values()
        for strip in strips
        for segment in strip
        if segment.style is not None
        for color in (segment.style.color, segment.style.bgcolor)
        if color is not None and not color.is_default
    }
    assert colored == set()
    async with shed.program(shed.reopened(shed.at("file", side=1))) as person:
        in_color = await shots(shed, person)
    assert texts(plain) == texts(in_color)


async def test_rule_07_every_state_is_told_by_word_glyph_or_shape(shed: Shed) -> None:
    async with shed.program(shed.reopened(shed.at("file", side=1))) as person:
        seen = texts(await shots(shed, person))
    assert len({tuple(rows) for rows in seen.values()}) == len(seen)
    words = {
        "caution": "WARNING",
        "refused": "Ignored",
        "left out": "×",
        "flagged": "!",
        "paused": "Paused",
        "find the place": "Find the place on the saw",
        "check": "Check the place",
        "turn": "Turn the saw to side 2",
        "question": "why?",
    }
    for name, word in words.items():
        assert any(word in row for row in seen[name]), name
        assert not any(word in row for row in seen["work"]), name
    assert any("SIDE 1" in row for row in seen["turn"])
    assert any("SIDE 2" in row for row in seen["turned"])


@pytest.mark.wide
@pytest.mark.parametrize("theme", ["bench-dark", "ansi-dark", "bench-plain"])
async def test_rule_07_nothing_that_is_read_is_dim_blinking_or_of_its_grounds_color(shed: Shed, theme: str) -> None:
    async with shed.program(shed.at("file", side=1), settings=Settings(theme=theme)) as person:
        found = await shots(shed, person)
    read = 0
    for name, strips in found.items():
        for strip in strips:
            for text, style, _ in strip:
                if text.strip() and style is not None:
                    read += 1
                    assert not style.dim, (name, text)
                    assert not style.blink, (name, text)
                    assert not style.blink2, (name, text)
                    assert not style.conceal, (name, text)
                    same = style.color is not None and style.color == style.bgcolor and not style.color.is_default
                    assert not same, (name, text)
    assert read > 500


async def test_rule_14_pausing_is_one_key_keeps_the_layout_and_is_logged_with_its_length(
    shed: Shed, size: tuple[int, int]
) -> None:
    async with shed.program(shed.at("file", side=1, done=3), size=size) as person:
        before = person.rows()
        await person.press("escape")
        paused = person.rows()
        assert "Paused" in person.panel()
        assert person.last()["did"] == "paused"
        # The head, the sign, the number, the strip, the place and the cautions stay where they were.
        told = next(n for n, row in enumerate(before) if "NOW " in row)
        assert paused[0] == before[0]
        assert [row[:28] for row in paused[: told - 3]] == [row[:28] for row in before[: told - 3]]
        assert [row[-12:] for row in paused[: told - 3]] == [row[-12:] for row in before[: told - 3]]
        assert paused[told - 3 : told + 1] == before[told - 3 : told + 1]
        effect = next(n for n, row in enumerate(before) if "IN EFFECT" in row)
        assert paused[effect] == before[effect]
        assert [bool(row.strip("╭─╮ ")) for row in paused[-3:]] == [bool(row.strip("╭─╮ ")) for row in before[-3:]]
        person.clock.pass_s(754)
        await person.press("f5", after_s=0.0)
        ended = person.last()
        assert (ended["did"], ended["what"], ended["value"], ended["unit"]) == ("resumed", "pause", 754.0, "s")
        assert "Rested 12 min 34 s" in person.words()
        assert person.large(sought(r"NOW (\d+)", person.places())[1])


async def test_rule_14_while_paused_nothing_moves_but_going_on_help_and_leaving(shed: Shed) -> None:
    async with shed.program(shed.at("file", side=1, done=3)) as person:
        await person.press("escape")
        count, panel = len(person.marks_on_disk()), person.panel()
        for key in ("space", "enter", "pagedown", "right", "y", "n", "2", "backspace", "full_stop", "l", "plus", "h"):
            await person.press(key, after_s=3)
            assert (len(person.marks_on_disk()), person.panel()) == (count, panel), key
        log = tomllib.loads(person.log.read_text(encoding="utf-8"))
        times = [mark["at"] for mark in log["mark"]]
        assert all(one <= other for one, other in pairwise(times))


async def test_a_term_on_screen_is_looked_up_by_a_digit(shed: Shed, size: tuple[int, int]) -> None:
    async with shed.program(shed.at("file", side=1), size=size) as person:
        before = person.marks_on_disk()
        await person.press("t")
        assert "On screen now:" in person.words()
        chosen = next(row for row in person.rows() if re.search(r"\d  flat\b", row))
        await person.press(sought(r"(\d)  flat\b", chosen)[1])
        assert isinstance(person.app.screen, Prompt)
        assert person.app.screen.question.title == "flat"
        # The bench stands beside the sheet, in the same rows.
        room = person.app.screen.query_one(".sheet").content_region
        sheet = " ".join(row[room.x : room.right].strip() for row in person.rows()[room.y : room.bottom])
        assert entry("terms", "flat")["means"] in sheet
        await person.press("escape")
        assert "NOW 1 " in person.places()
        assert person.marks_on_disk() == before
