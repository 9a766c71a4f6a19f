"""Hypothesis by profile: short in every run, long when asked for by name."""

from __future__ import annotations

from hypothesis import HealthCheck, settings

# No deadline: a slow computer is no fault, and chance is held fast in the short runs.
settings.register_profile(
    "short",
    max_examples=60,
    deadline=None,
    derandomize=True,
    database=None,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.register_profile(
    "long",
    max_examples=1000,
    deadline=None,
    database=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
)
settings.load_profile("short")
