"""Forms about people and crews."""

from typing import Any

from crispy_forms.helper import FormHelper
from django import forms
from django.utils.translation import gettext_lazy as _

from trainer.base.errors import Refused
from trainer.people.models import Account, Company, Crew, CrewPlace, Language, Role


class PlainForm(forms.Form):
    """A form whose page writes the form tag and the button itself."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.helper = FormHelper()
        self.helper.form_tag = False
        self.helper.disable_csrf = True

    def show(self, refused: Refused) -> None:
        """Put a service's refusal beside its field, or over the form."""
        self.add_error(refused.field if refused.field in self.fields else None, str(refused))


def day_field(label: Any, help_text: Any = "") -> forms.DateField:
    """Give a field for a calendar day, with the browser's own calendar."""
    widget = forms.DateInput(format="%Y-%m-%d", attrs={"type": "date"})
    return forms.DateField(label=label, help_text=help_text, widget=widget)


def roles_field() -> forms.MultipleChoiceField:
    """Give a field for one or more roles."""
    return forms.MultipleChoiceField(label=_("Roles"), choices=Role.choices, widget=forms.CheckboxSelectMultiple)


class PersonForm(PlainForm):
    """Somebody new to the company."""

    name = forms.CharField(label=_("Name"), max_length=120, help_text=_("As it should stand on records."))
    number = forms.CharField(
        label=_("Number"), max_length=30, required=False, help_text=_("The company's own number for the person.")
    )
    email = forms.EmailField(
        label=_("E-mail address"),
        required=False,
        help_text=_("A trainer, an evaluator and the office need one to sign in. Trainees and foremen use a card."),
    )
    language = forms.ChoiceField(label=_("Language"), choices=Language.choices)
    roles = roles_field()
    crew = forms.ModelChoiceField(
        label=_("Crew"), queryset=Crew.objects.none(), required=False, empty_label=_("no crew yet")
    )
    effective_from = day_field(_("Belongs to the company from"))

    def __init__(self, *args: Any, crews: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["crew"].queryset = crews  # type: ignore[attr-defined]


class RolesForm(PlainForm):
    """What a member does in the company, from a day on."""

    roles = roles_field()
    number = forms.CharField(label=_("Number"), max_length=30, required=False)
    effective_from = day_field(_("From"))


class EndForm(PlainForm):
    """The first day on which somebody no longer belongs to the company."""

    effective_from = day_field(_("First day no longer in the company"))


TIME_ZONES = {  # of the United States; a company elsewhere keeps the zone that it was set up with
    "America/New_York": _("Eastern, New York"),
    "America/Chicago": _("Central, Chicago"),
    "America/Denver": _("Mountain, Denver"),
    "America/Phoenix": _("Mountain without summer time, Phoenix"),
    "America/Los_Angeles": _("Pacific, Los Angeles"),
    "America/Anchorage": _("Alaska, Anchorage"),
    "Pacific/Honolulu": _("Hawaii, Honolulu"),
    "America/Puerto_Rico": _("Atlantic, Puerto Rico"),
    "Pacific/Guam": _("Guam"),
}


class SettingsForm(PlainForm):
    """What a company sets for itself; the service checks the limits."""

    time_zone = forms.ChoiceField(
        label=_("Time zone"),
        help_text=_(
            "A day begins at midnight here: what is due, what lapses and the times on pages count by it. "
            "Days that records already carry stay as they are."
        ),
    )
    lapse_notice_days = forms.IntegerField(
        label=_("Notice, in days"),
        help_text=_("So many days before its last day, something held says “lapses soon” in the matrix and lists."),
    )
    practice_months = forms.IntegerField(
        label=_("Practice is kept, in months"),
        help_text=_(
            "Practice that is older is deleted for good. Exams and records are not practice: they stay. "
            "Fewer months delete the older practice within a day."
        ),
    )

    def __init__(self, *args: Any, company: Company, **kwargs: Any) -> None:
        names = ("time_zone", "lapse_notice_days", "practice_months")
        kwargs.setdefault("initial", {name: getattr(company, name) for name in names})
        super().__init__(*args, **kwargs)
        own = {} if company.time_zone in TIME_ZONES else {company.time_zone: company.time_zone}
        self.fields["time_zone"].choices = [*TIME_ZONES.items(), *own.items()]  # type: ignore[attr-defined]


class CrewForm(PlainForm):
    """A crew's name."""

    name = forms.CharField(label=_("Name"), max_length=60)


class PlaceForm(PlainForm):
    """Who is what to a crew, from a day on; the page fixes either the crew or the person."""

    crew = forms.ModelChoiceField(label=_("Crew"), queryset=Crew.objects.none())
    account = forms.ModelChoiceField(label=_("Person"), queryset=Account.objects.none())
    part = forms.ChoiceField(label=_("Part"), choices=CrewPlace.Part.choices)
    effective_from = day_field(_("From"))

    def __init__(self, *args: Any, crews: Any = None, accounts: Any = None, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name, choices in (("crew", crews), ("account", accounts)):
            if choices is None:
                del self.fields[name]
            else:
                self.fields[name].queryset = choices  # type: ignore[attr-defined]


class RosterForm(PlainForm):
    """A roster's file."""

    file = forms.FileField(
        label=_("Roster file"), help_text=_("CSV or XLSX, at most 2 MB, 2,000 people and 20 columns.")
    )
    effective_from = day_field(_("Everybody belongs to the company from"))
