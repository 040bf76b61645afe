"""What exams tell the apps above them."""

from django.dispatch import Signal

# Sent with `sitting` and `score` inside the transaction that scores: a receiver that fails undoes the scoring.
sitting_scored = Signal()
