"""Settings shared by every test."""

from hypothesis import HealthCheck, settings

# The same examples on every run, and no deadline: a slow machine must not turn a right answer into a failure.
settings.register_profile(
    "steady", derandomize=True, deadline=None, suppress_health_check=[HealthCheck.too_slow]
)
settings.load_profile("steady")
