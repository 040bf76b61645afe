"""What the library tells those above it, inside the transaction of the change."""

from django.dispatch import Signal

# Sent when a module is loaded for the first time or changed: `version` (ModuleVersion), `module` (its module.toml).
module_loaded = Signal()

# Sent when a company adopts a revision: `adoption`, and `before`, the revision in force until then or None.
specification_adopted = Signal()
