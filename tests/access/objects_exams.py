"""Objects of exams that addresses name: the trainee's ended sitting and, after the wait, an open one."""

from datetime import timedelta
from typing import Any

from tests.access.world import World
from trainer.base import clock, ids
from trainer.exams import services
from trainer.exams.models import Sitting
from trainer.people.models import Role


def make(world: World) -> dict[str, Any]:
    """Sit once, leave it blank, and start again three days on, so that the second sitting is still open."""
    trainee = world.members[Role.TRAINEE]

    def start() -> Sitting:
        return services.start_sitting(
            company=world.company,
            account=trainee.account,
            module=world.objects["module_slug"],
            language=trainee.account.language,
        )

    now = clock.now()
    with clock.fixed(now):
        ended = start()
        services.end_sitting(sitting=ended, by=trainee.account)
    with clock.fixed(now + timedelta(days=3)):
        again = start()
    return {
        "ended_sitting": ended.ref,
        "open_sitting": again.ref,
        "sheet_number": 1,
        "sheet_send": str(ids.new_ref()),
    }
