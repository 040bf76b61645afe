"""What records do when something happens below, inside its transaction."""

from typing import Any

from django.dispatch import receiver

from trainer.exams.models import Sitting, SittingScore
from trainer.exams.signals import sitting_scored
from trainer.records.services import issue_module_record


@receiver(sitting_scored, dispatch_uid="records.issue_module_record")
def issue_with_score(*, sitting: Sitting, score: SittingScore, **_rest: Any) -> None:
    """Issue the record of a passed sitting; if that fails, the score is undone with it."""
    issue_module_record(sitting=sitting, score=score)
