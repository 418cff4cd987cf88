"""The fault script, each fault a few times: what it does to a catalogue is survived."""

import os
import subprocess
import sys

import pytest

from tests.support.sources import ROOT


@pytest.mark.parametrize(("fault", "times"), [("kill", 8), ("damaged", 6), ("writers", 40), ("lists", 60)])
def test_a_catalogue_survives(fault: str, times: int) -> None:
    """Killed while it writes, damaged on disk, drawn from by many at once, given spoilt lists."""
    # The contest on a server is a test of its own, in tests/catalogue.
    plain = {name: value for name, value in os.environ.items() if name != "HILUM_TEST_POSTGRESQL"}
    done = subprocess.run(
        [sys.executable, str(ROOT / "packaging" / "faults.py"), fault, "--times", str(times)],
        capture_output=True, text=True, encoding="utf-8", check=False, env=plain,
    )  # fmt: skip
    assert done.returncode == 0, done.stdout + done.stderr
    assert done.stdout.startswith(f"{fault}: survived"), done.stdout
