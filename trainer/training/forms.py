"""The form that assigns a module."""

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from trainer.people.models import Account, Crew


class AssignForm(forms.Form):
    """A module, one crew or one person, and the day it is due."""

    module = forms.ChoiceField(label=_("Module"))
    crew = forms.ModelChoiceField(
        label=_("Crew"), queryset=Crew.objects.none(), required=False, to_field_name="ref", empty_label=_("no crew")
    )
    person = forms.ModelChoiceField(
        label=_("or one person"),
        queryset=Account.objects.none(),
        required=False,
        to_field_name="ref",
        empty_label=_("nobody alone"),
    )
    due = forms.DateField(
        label=_("Due by the end of"), widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")
    )

    def __init__(self, *args: Any, modules: list[tuple[str, str]], crews: Any, people: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["module"].choices = modules  # type: ignore[attr-defined]
        self.fields["crew"].queryset = crews  # type: ignore[attr-defined]
        self.fields["person"].queryset = people  # type: ignore[attr-defined]

    def clean(self) -> dict[str, Any]:
        """Want a crew or a person, not both and not neither."""
        cleaned = super().clean() or {}
        if bool(cleaned.get("crew")) == bool(cleaned.get("person")):
            self.add_error("crew", _("Choose one crew, or one person: one of the two."))
        return cleaned
