"""What all tests share."""

import os

os.environ.setdefault("TRAINER_MODE", "test")
