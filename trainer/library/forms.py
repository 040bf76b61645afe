"""Forms of the library."""

from datetime import date
from typing import Any

from crispy_forms.helper import FormHelper
from crispy_forms.layout import Submit
from django import forms
from django.utils.translation import gettext_lazy as _


class AdoptForm(forms.Form):
    """From which day the company installs to a revision."""

    effective_from = forms.DateField(
        label=_("In force from"),
        help_text=_(
            "The first day on site that is installed to this revision. A past day is kept with the day of entry."
        ),
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
    )

    def __init__(self, *args: Any, today: date, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["effective_from"].initial = today
        self.helper = FormHelper()
        self.helper.add_input(Submit("adopt", _("Adopt this revision")))
