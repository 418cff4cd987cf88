"""Damaged files: whatever bytes are wrong, the keeper gets a reading or a reason, never a crash."""

import random

import pytest

from hilum.errors import KeeperError
from hilum.exchange.tables import read_table
from tests.exchange.builders import SWAP, TIDY, twin, understood, write_file


def damaged(data: bytes, chance: random.Random) -> bytes:
    """Flip, cut out, double or blot a few bytes."""
    bytes_now = bytearray(data)
    for _ in range(chance.randint(1, 12)):
        at = chance.randrange(len(bytes_now))
        kind = chance.randrange(4)
        if kind == 0:
            bytes_now[at] ^= 1 << chance.randrange(8)
        elif kind == 1:
            del bytes_now[at : at + chance.randint(1, 20)]
        elif kind == 2:
            bytes_now[at:at] = bytes_now[at : at + chance.randint(1, 200)]
        else:
            bytes_now[at] = chance.randrange(256)
        if not bytes_now:
            break
    return bytes(bytes_now)


def outcome(path) -> str:
    """Read and understand a file; anything but a reason for the keeper goes through and fails the test."""
    try:
        reading = understood(read_table(path))
    except KeeperError:
        return "refused"
    assert all(refusal.why and refusal.column for refusal in reading.refused)
    return "read"


@pytest.mark.parametrize("sample", [TIDY, SWAP], ids=lambda path: path.stem)
def test_damaged_lists_are_read_or_refused(tmp_path, sample):
    """Three hundred damaged copies of each; both outcomes happen."""
    chance = random.Random(2026)
    found = {
        outcome(write_file(tmp_path / "x.csv", damaged(sample.read_bytes(), chance))) for _ in range(300)
    }
    assert found == {"read", "refused"}


@pytest.mark.parametrize("sample", [TIDY, SWAP], ids=lambda path: path.stem)
def test_damaged_workbooks_are_read_or_refused(tmp_path, sample):
    """Damage to the archive."""
    chance = random.Random(2026)
    data = twin(sample, tmp_path / "sound.xlsx").read_bytes()
    assert outcome(tmp_path / "sound.xlsx") == "read"
    found = {outcome(write_file(tmp_path / "x.xlsx", damaged(data, chance))) for _ in range(150)}
    assert "refused" in found


def test_workbooks_damaged_inside_a_sound_archive_are_read_or_refused(tmp_path):
    """Damage to the parts, packed again so that the archive finds no fault."""
    import zipfile

    chance = random.Random(2026)
    sound = twin(SWAP, tmp_path / "sound.xlsx")
    found = set()
    for _ in range(200):
        path = tmp_path / "x.xlsx"
        with zipfile.ZipFile(sound) as old, zipfile.ZipFile(path, "w") as new:
            hurt = chance.choice(old.namelist())
            for name in old.namelist():
                data = old.read(name)
                new.writestr(name, damaged(data, chance) if name == hurt else data)
        found.add(outcome(path))
    assert found == {"read", "refused"}
