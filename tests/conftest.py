"""What all tests share."""

from __future__ import annotations

import compileall
import gc
import os
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from hypothesis import settings

from soak_table import SoakTable

# Else numpy may begin a thread for every core of the machine in every worker, more than there are cores. That this was
# why a test of small matrices once took five minutes on a busy machine is a guess: alone, two threads and one take as
# long. It reads this when it is first imported.
for threads in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ.setdefault(threads, "1")

# No test reads, or writes in, the till of whoever runs it: without another one, there is none.
os.environ["TOOTHLINE_TILL"] = str(Path(tempfile.gettempdir()) / f"toothline-tests-have-no-till-{os.getpid()}")

# An app under test makes some twenty thousand objects and soon lets go of them; at the usual threshold, looking through
# all of them again and again is a tenth of the whole run.
gc.set_threshold(50_000, 20, 20)

# On two shared cores hypothesis's own deadline would be a hidden assertion on time.
# Laws are tried on few examples in each run and on many now and then: pytest --hypothesis-profile=soak. What was found
# is put down as a test, not in a database that another machine does not have.
settings.register_profile("toothline", deadline=None, database=None, max_examples=40)
settings.register_profile("soak", deadline=None, database=None, max_examples=1_000)
settings.load_profile("toothline")


def pytest_configure(config: pytest.Config) -> None:
    """Have soaks tell what they tried, and the program compiled once: where Python may not keep what it compiled, each
    of the programs that tests start would do it anew."""
    config.pluginmanager.register(SoakTable())
    if not hasattr(config, "workerinput"):
        compileall.compile_dir(Path(__file__).resolve().parents[1] / "session", quiet=2)


@pytest.fixture(autouse=True, scope="session")
def in_the_kernels_hands() -> Iterator[None]:
    """Do not wait for the medium: what the kernel has is what any test here can read back.

    That the program asks for it, when, and what comes of a medium that will not, is held by disks of the tests' own and
    by programs of their own, which wait as ever.
    """

    def asked(fd: int) -> None:
        os.fstat(fd)  # as ever a fault for a file that is not open

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(os, "fsync", asked)
        yield


def pytest_xdist_auto_num_workers(config: pytest.Config) -> int:
    """One worker more than there are cores: those at a real terminal mostly wait."""
    return (os.cpu_count() or 1) + 1


def pytest_addoption(parser: pytest.Parser) -> None:
    """The one option of our own."""
    parser.addoption(
        "--remake-goldens",
        action="store_true",
        help="write the golden files anew from what the program shows now; read the diff as carefully as code",
    )


@pytest.fixture
def golden(request: pytest.FixtureRequest) -> Callable[[str, str], None]:
    """Compares a text exactly with the golden of that name, in ``goldens/`` beside the test."""
    folder = request.path.parent / "goldens"
    remake = bool(request.config.getoption("--remake-goldens"))

    def hold(name: str, text: str) -> None:
        path = folder / name
        if remake:
            folder.mkdir(exist_ok=True)
            path.write_text(text, encoding="utf-8")
            return
        assert path.exists(), f"no golden {name}; look at what is shown, then: pytest --remake-goldens"
        assert text.split("\n") == path.read_text(encoding="utf-8").split("\n"), f"{name} has changed"

    return hold
