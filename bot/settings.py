"""Settings from the environment (WATCHGLASS_*) or a TOML file, checked at the start; secrets are never
printed."""

from __future__ import annotations

import difflib
import os
import tomllib
from pathlib import Path
from typing import Annotated

from platformdirs import user_config_path, user_data_path
from pydantic import AliasChoices, BeforeValidator, Field, SecretStr, ValidationError
from pydantic_settings import (
    BaseSettings,
    NoDecode,
    PydanticBaseSettingsSource,
    SettingsConfigDict,
    TomlConfigSettingsSource,
)

from bot.queue.interest import THRESHOLD, Weights
from rules.assessment import Jurisdiction

PREFIX = "WATCHGLASS_"
CONFIG = f"{PREFIX}CONFIG"
APPLICATION = "watchglass"


# Ids of the platform: whole numbers above 2^32, since each carries its time of making in the high bits.
Snowflake = Annotated[int, Field(gt=2**32, lt=2**63)]
Snowflakes = Annotated[tuple[Snowflake, ...], NoDecode, BeforeValidator(lambda raw: _listed(raw))]


class SettingsError(ValueError):
    """A setting is wrong. `faults` has one line a fault: which setting, what is wrong, what to write."""

    def __init__(self, faults: list[str]) -> None:
        self.faults = faults
        super().__init__("; ".join(faults))


def default_database() -> Path:
    return user_data_path(APPLICATION, appauthor=False) / "watchglass.db"


def config_file() -> Path:
    """WATCHGLASS_CONFIG, else `watchglass.toml` in the user's configuration directory."""
    named = os.environ.get(CONFIG)
    return Path(named) if named else user_config_path(APPLICATION, appauthor=False) / "watchglass.toml"


class Settings(BaseSettings):
    """All settings of the program. An environment variable wins over the file."""

    model_config = SettingsConfigDict(
        env_prefix=PREFIX, env_nested_delimiter="__", extra="forbid", frozen=True, hide_input_in_errors=True
    )

    database: Path = Field(
        default_factory=default_database, validation_alias=AliasChoices("WATCHGLASS_DB", "db", "database")
    )
    region: Jurisdiction = Jurisdiction.US
    weights: Weights = Weights()
    queue_threshold: Annotated[float, Field(ge=0, le=1)] = THRESHOLD
    creator: str = "creator"
    token: SecretStr | None = None
    api_url: str = "https://discord.com/api/v10"
    gateway_url: str = "wss://gateway.discord.gg/"
    desk_channel: Snowflake | None = None
    creator_roles: Snowflakes = ()
    notes_channel: Snowflake | None = None
    notes_threshold: Annotated[int, Field(ge=2)] = 3
    cooldown_tags: Annotated[int, Field(ge=1)] = 10
    cooldown_seconds: Annotated[float, Field(gt=0)] = 60
    retention_days: Annotated[int, Field(ge=1)] = 30
    catch_up_messages: Annotated[int, Field(ge=0)] = 500
    health_port: Annotated[int, Field(ge=0, le=65_535)] | None = None
    policy_url: str | None = None

    @classmethod
    def settings_customise_sources(
        cls,
        settings_cls: type[BaseSettings],
        init_settings: PydanticBaseSettingsSource,
        env_settings: PydanticBaseSettingsSource,
        dotenv_settings: PydanticBaseSettingsSource,  # noqa: ARG003
        file_secret_settings: PydanticBaseSettingsSource,  # noqa: ARG003
    ) -> tuple[PydanticBaseSettingsSource, ...]:
        return init_settings, env_settings, TomlConfigSettingsSource(settings_cls, config_file())


def load_settings(**given: object) -> Settings:
    """Reads and checks all settings; `given` (from the command line) wins. Raises SettingsError."""
    _refuse_unknown_variables()
    file = config_file()
    if CONFIG in os.environ and not file.is_file():
        raise SettingsError([f"{CONFIG} names {file}, which is not there; write that file or unset {CONFIG}"])
    try:
        return Settings(**{key: value for key, value in given.items() if value is not None})  # type: ignore[arg-type]
    except ValidationError as error:
        raise SettingsError([_fault(detail["loc"], detail["msg"]) for detail in error.errors()]) from None
    except tomllib.TOMLDecodeError as error:
        raise SettingsError([f"{file} is not TOML ({error}); correct that line"]) from None
    except (OSError, UnicodeDecodeError) as error:
        raise SettingsError([f"{file} cannot be read ({error}); make it readable or remove it"]) from None


def known_variables() -> set[str]:
    names = {f"{PREFIX}{name.upper()}" for name in Settings.model_fields if name != "database"}
    weights = {f"{PREFIX}WEIGHTS__{name.upper()}" for name in Weights.model_fields}
    return names | weights | {CONFIG, f"{PREFIX}DB"}


def _listed(raw: object) -> object:
    """ "1,2" from an environment variable; a file has a list already."""
    return [part.strip() for part in raw.split(",") if part.strip()] if isinstance(raw, str) else raw


def _refuse_unknown_variables() -> None:
    known = known_variables()
    faults = []
    for name in sorted(os.environ):
        if name.startswith(PREFIX) and name not in known:
            near = difflib.get_close_matches(name, known, n=1)
            hint = f"did you mean {near[0]}?" if near else "unset it"
            faults.append(f"{name} is no setting of this program; {hint}")
    if faults:
        raise SettingsError(faults)


def _fault(place: tuple[int | str, ...], message: str) -> str:
    name = ".".join(map(str, place)) or "settings"
    return f"{name}: {message}; set {PREFIX}{name.upper().replace('.', '__')} or correct it in {config_file()}"
