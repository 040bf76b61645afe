"""Say that this is a test run, before settings are read; pytest loads this first (`-p tests.mode`).

HYPOTHESIS_PROFILE chooses how hard properties are tried: `long` ten times as hard, `mutation` hardly at all. Tests that
name a number of examples themselves read it too (tests/rules/samples.py).
"""

import os

os.environ.setdefault("TRAINER_MODE", "test")

PROFILE = os.environ.get("HYPOTHESIS_PROFILE", "")
if PROFILE:
    from hypothesis import Phase, settings

    settings.register_profile("long", max_examples=1_000, deadline=None)
    settings.register_profile(  # the same examples every time, and a failure is enough: it need not be a small one
        "mutation", max_examples=10, deadline=None, derandomize=True, database=None,
        phases=(Phase.explicit, Phase.generate),
    )  # fmt: skip
    settings.load_profile(PROFILE)
