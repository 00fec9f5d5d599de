"""What the environment says, as one frozen value, refused early and in words."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from core.errors import BenchError


class BadSetting(BenchError):
    """An environment variable that cannot be used."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """Where the books lie, which zone the bench is in, and how Telegram is reached."""

    database_url: str
    zone: ZoneInfo
    media: str
    telegram_token: str | None
    telegram_api: str
    webhook_url: str | None
    webhook_listen: str
    webhook_secret: str | None


def read_settings(environ: Mapping[str, str]) -> Settings:
    """The settings. Raises BadSetting with what to write instead."""
    name = environ.get("BENCHHAND_ZONE", "UTC")
    try:
        zone = ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, IsADirectoryError):
        raise BadSetting(f"BENCHHAND_ZONE={name}: no such zone; write it like America/Los_Angeles") from None
    url = environ.get("BENCHHAND_DATABASE_URL", "sqlite:///benchhand.db")
    if "://" not in url:
        raise BadSetting("BENCHHAND_DATABASE_URL is no address; write it like sqlite:///benchhand.db")
    return Settings(
        database_url=url,
        zone=zone,
        media=environ.get("BENCHHAND_MEDIA", "media"),
        telegram_token=environ.get("BENCHHAND_TELEGRAM_TOKEN") or None,
        telegram_api=environ.get("BENCHHAND_TELEGRAM_API", "https://api.telegram.org").rstrip("/"),
        webhook_url=environ.get("BENCHHAND_WEBHOOK_URL") or None,
        webhook_listen=environ.get("BENCHHAND_WEBHOOK_LISTEN", "127.0.0.1:8443"),
        webhook_secret=environ.get("BENCHHAND_WEBHOOK_SECRET") or None,
    )
