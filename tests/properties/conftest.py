"""Hypothesis without surprises: the same examples every time, no deadline, whatever the machine."""

from hypothesis import HealthCheck, Phase, settings

PHASES = (Phase.explicit, Phase.generate, Phase.shrink)  # no explaining: it would print whole catalogues
settings.register_profile(
    "repeatable",
    derandomize=True,
    deadline=None,
    database=None,
    phases=PHASES,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.load_profile("repeatable")
