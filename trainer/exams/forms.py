"""The forms of exams: start, a sheet's send, and a company's own plan."""

from typing import Any

from crispy_forms.helper import FormHelper
from django import forms
from django.utils.translation import gettext_lazy as _

from trainer.exams.models import ExamPlan
from trainer.people.models import Language


class StartForm(forms.Form):
    """The language that the exam is sat in."""

    language = forms.ChoiceField(label=_("Language of the exam"), choices=Language.choices, widget=forms.RadioSelect)


class SendForm(forms.Form):
    """The UUID that makes a sheet's send repeatable, and where to go after it is saved."""

    send = forms.UUIDField()
    go = forms.CharField(required=False, max_length=8)


class PlanForm(forms.Form):
    """A company's own passing score with its reason, time and wait, from a day on."""

    passing_score = forms.IntegerField(label=_("Passing score: questions right"), min_value=1)
    reason_en = forms.CharField(
        label=_("Why this score is enough, in English"), widget=forms.Textarea(attrs={"rows": 2}), max_length=500
    )
    reason_es = forms.CharField(
        label=_("Why this score is enough, in Spanish"), widget=forms.Textarea(attrs={"rows": 2}), max_length=500
    )
    minutes = forms.IntegerField(label=_("Time, in minutes"), min_value=5, max_value=480)
    wait_hours = forms.IntegerField(label=_("Wait before another sitting, in hours"), min_value=0, max_value=24 * 60)
    valid_months = forms.IntegerField(label=_("Holds for, in months"), min_value=1, max_value=120)
    effective_from = forms.DateField(
        label=_("From this day on"), widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")
    )

    def __init__(self, *args: Any, plan: ExamPlan, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.helper = FormHelper()
        self.helper.form_tag = False
        self.fields["passing_score"].help_text = _("A whole number, of %(questions)s questions.") % {
            "questions": plan.questions
        }
        self.fields["passing_score"].widget.attrs["max"] = plan.questions
