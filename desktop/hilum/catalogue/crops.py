"""The crops of this library: the reference crops, and those the keeper adds or leaves open."""

from sqlalchemy import Connection, insert, select, update

from hilum.catalogue.folding import fold, tidy
from hilum.catalogue.history import add
from hilum.catalogue.opening import Job
from hilum.catalogue.records import crop
from hilum.errors import BadInput
from hilum.seedlore.crops import Crop, UnknownCrop, all_crops, crop_name
from hilum.seedlore.crops import crop as reference

OPEN = "open:"
OWN = "own:"
# Crop codes use no I and no O, which are read as 1 and 0.
_LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"


def fill_crops(job: Job) -> None:
    """Write the reference crops into a new catalogue under the library's language."""
    language = job.settings.language
    job.run(
        insert(crop),
        [
            {
                "key": entry.key,
                "code": entry.code,
                "name": crop_name(entry, language),
                "folded": fold(crop_name(entry, language)),
                "botanical_name": entry.botanical_name,
            }
            for entry in all_crops()
        ],
    )


def rename_crops(job: Job) -> None:
    """Bring the crops' names into the library's language after that setting has changed."""
    for entry in all_crops():
        name = crop_name(entry, job.settings.language)
        job.run(update(crop).where(crop.c.key == entry.key).values(name=name, folded=fold(name)))


def reference_crop(key: str) -> Crop | None:
    """Give the reference facts of a crop's key; None for a crop of the library's own or one left open."""
    if key.startswith((OPEN, OWN)):
        return None
    try:
        return reference(key)
    except UnknownCrop:
        # A key from an older table of crops: the library's lots keep it, its facts are no longer known.
        return None


def crop_id(connection: Connection, key: str) -> int:
    """Give the id of a crop by its key."""
    found = connection.execute(select(crop.c.id).where(crop.c.key == key)).scalar()
    if found is None:
        raise BadInput(f"There is no crop {key!r} in this catalogue.")
    return int(found)


def open_group(job: Job, botanical_name: str) -> int:
    """Give the crop that stands for a botanical name whose group is still to be chosen, made on the spot."""
    return _own(job, OPEN + botanical_name, f"{botanical_name}, group open", botanical_name)


def own_crop(job: Job, name: str, botanical_name: str = "") -> int:
    """Give a crop of the library's own by its name, made on the spot; it has no reference facts."""
    name = tidy(name)
    if not name:
        raise BadInput("A crop needs a name.")
    return _own(job, OWN + fold(name), name, tidy(botanical_name))


def _own(job: Job, key: str, name: str, botanical_name: str) -> int:
    found = job.run(select(crop.c.id).where(crop.c.key == key)).scalar()
    if found is not None:
        return int(found)
    return add(
        job,
        crop,
        {
            "key": key,
            "code": _free_code(job, botanical_name or name),
            "name": name,
            "folded": fold(name),
            "botanical_name": botanical_name,
        },
    )


def _free_code(job: Job, name: str) -> str:
    """Give a three-letter code nobody has yet, as near to the name as can be."""
    taken = set(job.run(select(crop.c.code)).scalars())
    letters = [ch for ch in fold(name).upper() if ch in _LETTERS] + ["X", "X", "X"]
    for second in range(1, len(letters) - 1):
        for third in range(second + 1, len(letters)):
            code = letters[0] + letters[second] + letters[third]
            if code not in taken:
                return code
    for first in letters[:1] + list(_LETTERS):
        for second_letter in _LETTERS:
            for third_letter in _LETTERS:
                if (code := first + second_letter + third_letter) not in taken:
                    return code
    raise BadInput("No three-letter crop code is free any more.")
