"""Objects of records that addresses name: the trainee's module record, and a qualification that takes the module."""

from datetime import timedelta
from typing import Any

from tests.access.world import World
from tests.records import scene
from trainer.people.models import Role
from trainer.records import services


def make(world: World) -> dict[str, Any]:
    """Let the trainee pass yesterday, and define a qualification that the record earns."""
    today = world.company.today()
    record = scene.record(world.members[Role.TRAINEE], day=today - timedelta(days=1))
    definition = services.define_qualification(
        company=world.company,
        by=None,
        title_en="Two-ply hand",
        title_es="Operario de dos capas",
        modules=[record.subject],
        valid_months=12,
        effective_from=today,
    )
    return {
        "own_record": record,
        "record_code": record.code,
        "record_holder": record.account,
        "qualification": definition.qualification,
    }
