"""Say that this is a test run, before settings are read; pytest loads this first (`-p tests.mode`)."""

import os

os.environ.setdefault("TRAINER_MODE", "test")
