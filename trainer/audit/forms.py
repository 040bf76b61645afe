"""The filters of the matrix and of what lapses; they stand in the address."""

from datetime import date
from typing import Any, Final

from django import forms
from django.utils.translation import gettext_lazy as _

from trainer.people.models import Crew

DAYS: Final = (("30", _("next 30 days")), ("60", _("next 60 days")), ("90", _("next 90 days")), ("lapsed", _("lapsed")))


class DayInput(forms.DateInput):
    """A day, picked or typed as YYYY-MM-DD."""

    input_type = "date"

    def __init__(self) -> None:
        super().__init__(format="%Y-%m-%d")


class MatrixForm(forms.Form):
    """As of which day, as known on which day, which crew, whose name."""

    search = forms.CharField(label=_("Name or company number"), required=False, max_length=120)
    crew = forms.ModelChoiceField(
        label=_("Crew"), queryset=Crew.objects.none(), required=False, to_field_name="ref", empty_label=_("all crews")
    )
    on = forms.DateField(label=_("As of the day"), required=False, widget=DayInput())
    known_on = forms.DateField(
        label=_("As known on"),
        help_text=_("Leave out what was entered or revoked after this day."),
        required=False,
        widget=DayInput(),
    )

    def __init__(self, *args: Any, crews: Any, today: date, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["crew"].queryset = crews  # type: ignore[attr-defined]
        self.fields["search"].widget.attrs["type"] = "search"
        self.today = today

    def chosen(self) -> dict[str, Any]:
        """Give the filters; a field that cannot be read counts as left empty, and its error stands beside it."""
        self.full_clean()
        cleaned = self.cleaned_data
        return {
            "search": cleaned.get("search", ""),
            "crew": cleaned.get("crew"),
            "on": cleaned.get("on") or self.today,
            "known_on": cleaned.get("known_on"),
        }


class LapsesForm(forms.Form):
    """How far ahead, and whose name."""

    days = forms.ChoiceField(label=_("Lapses within"), choices=DAYS, required=False)
    search = forms.CharField(label=_("Name or company number"), required=False, max_length=120)

    def chosen(self) -> tuple[int | None, str]:
        """Give the days ahead (None: already lapsed) and the search; 60 days unless asked otherwise."""
        self.full_clean()
        days = self.cleaned_data.get("days") or "60"
        return (None if days == "lapsed" else int(days)), self.cleaned_data.get("search", "")
