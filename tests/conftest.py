"""What holds for every test.

Properties are tried on the same values in each run, so that a change is judged by what it changed and not by luck;
`--hypothesis-profile=search` looks for new ones. How long an example takes says how busy the machine
is, so none fails by it.
"""

import gc

from hypothesis import HealthCheck, settings

pytest_plugins = ["support.browser"]

settings.register_profile(
    "settled", derandomize=True, database=None, deadline=None, suppress_health_check=[HealthCheck.too_slow]
)
settings.register_profile("search", derandomize=False, print_blob=True)
settings.load_profile("settled")


def pytest_collection_finish() -> None:
    """What was collected stays to the end: the search for unused memory need not look through it again."""
    gc.collect()
    gc.freeze()
