"""Forms of records: revoke, define a qualification, issue it."""

from datetime import date
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from trainer.base.errors import Refused
from trainer.people.models import Account, Company
from trainer.records.models import QualificationDefinition, RevocationReason


def refuse(form: forms.Form, refused: Refused) -> None:
    """Put a service's refusal beside its field, or above the form."""
    form.add_error(refused.field if refused.field in form.fields else None, str(refused.message))


class RevocationForm(forms.Form):
    """Why a record is revoked, from when, and that this is meant."""

    reason_code = forms.ChoiceField(
        label=_("Reason"),
        choices=[(code, label) for code, label in RevocationReason.choices if code != RevocationReason.BASIS_REVOKED],
        widget=forms.RadioSelect,
    )
    reason = forms.CharField(
        label=_("In a few words"),
        help_text=_("Only staff of the company can read this. It can be erased with the person's names."),
        widget=forms.Textarea(attrs={"rows": 3}),
        max_length=1000,
        required=False,
    )
    from_the_start = forms.BooleanField(
        label=_("Void from its first day, not only from today on"),
        required=False,
    )


class DefinitionForm(forms.Form):
    """What a qualification takes from a day on."""

    title_en = forms.CharField(label=_("Title in English"), max_length=120)
    title_es = forms.CharField(label=_("Title in Spanish"), max_length=120)
    modules = forms.MultipleChoiceField(
        label=_("Modules that it takes"),
        help_text=_("With none it is no longer given from that day on; records issued before stay."),
        widget=forms.CheckboxSelectMultiple,
        required=False,
    )
    valid_months = forms.IntegerField(
        label=_("Months that it holds"),
        help_text=_("Empty: as long as its modules. It never holds longer than the first of them."),
        min_value=1,
        max_value=600,
        required=False,
    )
    effective_from = forms.DateField(
        label=_("From the day"), widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")
    )

    def __init__(
        self, *args: Any, modules: dict[str, str], latest: QualificationDefinition | None, today: date, **kwargs: Any
    ) -> None:
        kwargs["initial"] = {"effective_from": today} | (
            {}
            if latest is None
            else {
                "title_en": latest.title_en,
                "title_es": latest.title_es,
                "modules": latest.module_slugs,
                "valid_months": latest.valid_months,
            }
        )
        super().__init__(*args, **kwargs)
        self.fields["modules"].choices = sorted(modules.items(), key=lambda item: item[1])  # type: ignore[attr-defined]


class IssueForm(forms.Form):
    """The person that a qualification is issued to, by ref."""

    person = forms.ModelChoiceField(queryset=Account.objects.none(), to_field_name="ref")

    def __init__(self, *args: Any, company: Company, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        accounts = Account.objects.filter(memberships__company=company).distinct()
        self.fields["person"].queryset = accounts  # type: ignore[attr-defined]
