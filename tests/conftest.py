"""What all tests share: how many examples the quick subset tries where a test tries any."""

from __future__ import annotations

from hypothesis import settings

settings.register_profile("quick", max_examples=25)
