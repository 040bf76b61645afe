"""The one error that services raise for people: a sentence for the page, tied to a field where there is one."""

from django.utils.functional import Promise


class Refused(Exception):
    """A service will not do this; `message` is one translated sentence that says why and how to mend it."""

    def __init__(self, message: str | Promise, *, field: str | None = None) -> None:
        super().__init__(str(message))
        self.message = message
        self.field = field
