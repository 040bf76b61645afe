"""What exams do when the library changes, inside its transaction."""

from typing import Any

from django.dispatch import receiver

from trainer.exams.plans import publish_default
from trainer.library.signals import module_loaded


@receiver(module_loaded, dispatch_uid="exams.publish_default")
def publish_with_module(*, version: Any, module: Any, **_rest: Any) -> None:
    """Publish the plan that a loaded module brings; a plan that cannot be drawn refuses the load."""
    publish_default(version=version, module=module)
