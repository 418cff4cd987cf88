"""What the library decides for itself, each with its default."""

from collections.abc import Mapping
from dataclasses import asdict, dataclass, fields
from typing import Any

from sqlalchemy import Connection, delete, insert, select

from hilum.catalogue.records import setting
from hilum.errors import BadInput


@dataclass(frozen=True, slots=True)
class Settings:
    """The library's own rules; a value that is not stored is the default here."""

    library_name: str = "Our seed library"
    language: str = "en_gb"
    # The day on which a test season opens, as month and day.
    season_month: int = 12
    season_day: int = 1
    # Share of seedlings that reach the harvest; common practice, no source.
    field_survival: float = 0.7
    # Plants to regrow where the crop has no published figure; common practice, no source.
    plants_unpublished: int = 50
    # The germination counted on before a lot's first test where its crop has no standard.
    germination_untested_percent: int = 75
    # Fewest seeds that make a test worth its seed.
    smallest_test_seeds: int = 20
    scale_step_mg: int = 10
    closed_weekdays: tuple[int, ...] = ()
    safety_copies_kept: int = 12
    low_packets_seeds: int = 200
    # Whether packets below the standard are to say so in words, where the local rules ask for it.
    says_below_standard: bool = False
    # The library's web address, for codes that lead there.
    web_address: str = ""
    # Label stocks measured with a ruler, and what each printer and tray does to a page; see the benches.
    own_label_stocks: tuple[Mapping[str, Any], ...] = ()
    printer_corrections: tuple[Mapping[str, Any], ...] = ()
    # How long a person's name is kept after they were last met with; common practice, no source. 0 sets no limit.
    names_kept_months: int = 36

    def __post_init__(self) -> None:
        """Refuse what cannot be a setting."""
        if not (1 <= self.season_month <= 12 and 1 <= self.season_day <= 28):
            raise BadInput("The test season opens on a day from the 1st to the 28th of a month from 1 to 12.")
        if not 0 < self.field_survival <= 1:
            raise BadInput("Field survival is a share above 0 and at most 1, for example 0.7.")
        if self.scale_step_mg < 1:
            raise BadInput("The scale's step is at least 1 mg.")
        if not 0 <= self.names_kept_months <= 1200:
            raise BadInput("Names are kept from 1 to 1200 months; 0 sets no limit.")


def read_settings(connection: Connection) -> Settings:
    """Give the library's settings as stored, defaults where nothing is stored."""
    known = {field.name for field in fields(Settings)}
    stored: dict[str, Any] = {}
    for name, value in connection.execute(select(setting.c.name, setting.c.value)):
        if name in known:
            stored[name] = tuple(value) if isinstance(value, list) else value
    return Settings(**stored)


def write_settings(connection: Connection, settings: Settings) -> None:
    """Store every setting that differs from its default."""
    defaults = asdict(Settings())
    connection.execute(delete(setting).where(setting.c.name.in_(defaults)))
    for name, value in asdict(settings).items():
        if value != defaults[name]:
            connection.execute(
                insert(setting).values(name=name, value=list(value) if isinstance(value, tuple) else value)
            )
