"""Objects of training that addresses name: an assignment to the crew, the trainee's open reading and practice case."""

from datetime import timedelta
from typing import Any

from tests.access.world import World
from trainer.people.models import Role
from trainer.training import services


def make(world: World) -> dict[str, Any]:
    """Assign the module to the crew; let the trainee open the lesson and draw a case."""
    trainee, trainer = world.members[Role.TRAINEE], world.members[Role.TRAINER]
    slug = world.objects["module_slug"]
    assignment = services.assign(
        company=world.company,
        module=slug,
        due=world.company.today() + timedelta(days=3),
        by=trainer.account,
        crew=world.crew,
    )
    reading = services.open_reading(
        member=trainee,
        version=world.objects["module_version"],
        revision=world.objects["specification_revision"],
    )
    case = services.draw_case(member=trainee, module=slug)
    return {"assignment": assignment.ref, "open_reading": reading.ref, "practice_case": case.ref}
