"""The same as the pages do, for programs on this machine: JSON, described by `/api/openapi.json` (OpenAPI 3.1)."""

from __future__ import annotations

from solander.station.api.described import add_api

__all__ = ["add_api"]
