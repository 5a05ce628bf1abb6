"""What holds for every test.

Properties are tried on the same values in each run, so that a change is judged by what it changed and not by luck;
`--hypothesis-profile=search` looks for new ones.
"""

from hypothesis import settings

settings.register_profile("settled", derandomize=True, database=None)
settings.register_profile("search", derandomize=False, print_blob=True)
settings.load_profile("settled")
