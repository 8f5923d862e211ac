"""Speaking: never waited for, only the newest sentence, nothing left behind, and what is wrong told once."""

from __future__ import annotations

import json
import os
import shutil
import signal
import subprocess
import sys
import wave
from collections.abc import Callable, Iterator
from pathlib import Path
from queue import Queue

import pytest

from session.machine.speech import USUAL, Speech, SpeechProgram, usual_program
from speaking import PATIENCE_S, Said, wait_gone

pytestmark = pytest.mark.skipif(not hasattr(os, "pidfd_open"), reason="waits for the end of processes as Linux has it")


@pytest.fixture
def said(tmp_path: Path) -> Iterator[Said]:
    """What was spoken."""
    said = Said(tmp_path)
    yield said
    said.close()


@pytest.fixture
def wrong() -> Queue[str]:
    """What was told to be wrong."""
    return Queue()


@pytest.fixture
def speaking(wrong: Queue[str]) -> Iterator[Callable[..., Speech]]:
    """Begins to speak; it is over when the test is."""
    begun: list[Speech] = []

    def begin(words: tuple[str, ...], *, by_stdin: bool = False, longest_s: float | None = None) -> Speech:
        begun.append(Speech(SpeechProgram(words, by_stdin), wrong.put, longest_s=longest_s))
        return begun[-1]

    yield begin
    for one in begun:
        one.close()


@pytest.mark.parametrize("how", ["argument", "input"])
def test_a_sentence_is_given_as_one_word_more_or_on_the_input(
    said: Said, speaking: Callable[..., Speech], how: str
) -> None:
    text = 'Gullet 12 of 64; $(touch x) `y` "z" – side 1.'
    speaking(said.program(how), by_stdin=how == "input").say(text)
    assert said.next()[1] == text


def test_the_newest_sentence_ends_the_one_that_is_being_said(said: Said, speaking: Callable[..., Speech]) -> None:
    speech = speaking(said.program("argument forever"))
    speech.say("one")
    first, text = said.next()
    assert text == "one"
    speech.say("two")
    second, text = said.next()
    assert text == "two"
    wait_gone(first)
    speech.close()
    wait_gone(second)


def test_of_many_sentences_at_once_none_but_the_newest_waits(said: Said, speaking: Callable[..., Speech]) -> None:
    speech = speaking(said.program("argument forever"))
    speech.say("first")
    begun = [said.next()]
    for number in range(200):
        speech.say(f"sentence {number}")
    while begun[-1][1] != "sentence 199":
        begun.append(said.next())
    # Each that was begun made room for a newer one; most were never begun.
    numbers = [int(text.removeprefix("sentence ")) for _, text in begun[1:]]
    assert numbers == sorted(set(numbers))
    assert len(begun) < 200
    speech.close()
    for process, _ in begun:
        wait_gone(process)


def test_a_missing_program_is_told_once(speaking: Callable[..., Speech], wrong: Queue[str]) -> None:
    speech = speaking(("/no/such/program",))
    speech.say("one")
    assert wrong.get(timeout=PATIENCE_S) == "cannot be started: No such file or directory"
    for text in ("two", "three"):
        speech.say(text)
    speech.close()
    assert wrong.empty()


def test_a_failing_program_is_told_once_and_asked_again(
    said: Said, speaking: Callable[..., Speech], wrong: Queue[str]
) -> None:
    speech = speaking(said.program(status=3))
    speech.say("one")
    assert said.next()[1] == "one"
    assert wrong.get(timeout=PATIENCE_S) == "failed, status 3"
    speech.say("two")
    process, text = said.next()
    assert text == "two"
    wait_gone(process)
    speech.close()
    assert wrong.empty()


def test_a_program_that_does_not_end_is_ended_and_told_once(
    said: Said, speaking: Callable[..., Speech], wrong: Queue[str]
) -> None:
    speech = speaking(said.program("argument forever"), longest_s=0.2)
    speech.say("one")
    process, _ = said.next()
    assert wrong.get(timeout=PATIENCE_S) == "did not end within 0.2 s and was ended"
    wait_gone(process)
    speech.say("two")
    assert said.next()[1] == "two"


def test_a_program_that_reads_nothing_does_not_hold_anything_up(speaking: Callable[..., Speech], said: Said) -> None:
    speech = speaking((*said.program("argument forever"), "deaf"), by_stdin=True)
    speech.say("a long text " * 20_000)
    process, text = said.next()
    assert text == "deaf"
    speech.close()
    wait_gone(process)


@pytest.mark.parametrize("end", [signal.SIGKILL, signal.SIGTERM])
def test_nothing_is_left_when_the_program_itself_is_ended(said: Said, end: signal.Signals) -> None:
    begin = (
        "import json, sys, threading\n"
        "from session.machine.speech import Speech, SpeechProgram\n"
        "Speech(SpeechProgram(tuple(json.loads(sys.argv[1]))), print).say('to the end')\n"
        "threading.Event().wait()\n"
    )
    words = [sys.executable, "-c", begin, json.dumps(said.program("argument forever"))]
    with subprocess.Popen(words) as bench:
        process, text = said.next()
        assert text == "to the end"
        bench.send_signal(end)
    wait_gone(process)


def test_the_usual_program_is_the_first_that_is_there() -> None:
    assert usual_program(lambda name: None) is None
    assert [one.words[0] for one in USUAL] == ["say", "espeak-ng", "spd-say"]
    found = usual_program({"spd-say": "/usr/bin/spd-say"}.get)
    assert found is not None
    assert (found.words[0], found.hush[0]) == ("spd-say", "spd-say")


@pytest.mark.skipif(shutil.which("espeak-ng") is None, reason="espeak-ng is not installed")
def test_espeak_ng_speaks_into_a_file_and_a_longer_sentence_is_longer(
    tmp_path: Path, said: Said, speaking: Callable[..., Speech]
) -> None:
    lengths = []
    for text in ("Gullet 12.", "Gullet 12 of 64, side 1, 3 strokes, lean to the toe, stop when half the flat is gone."):
        sound = tmp_path / "sound.wav"
        # Its own end tells that the file is whole.
        then = f'espeak-ng -w "{sound}" --stdin && echo "$$ done" >> "{said.pipe}"'
        speaking(("sh", "-c", then), by_stdin=True).say(text)
        assert said.next()[1] == "done"
        with wave.open(str(sound)) as file:
            lengths.append(file.getnframes() / file.getframerate())
    assert 0.4 < lengths[0] < 3 < lengths[1]
