"""The form of a rule: one field for each input, each with its own sentence when it cannot be read."""

import re
from collections.abc import Container, Mapping
from typing import Any, Final

from crispy_forms.helper import FormHelper
from crispy_forms.layout import Submit
from django import forms
from django.utils.text import capfirst
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from trainer.rules.dimensions import COUNT, DISTANCE, FLAG, LENGTH, LENGTHS, SHARE, Dimension
from trainer.rules.registry import Input, Rule, RuleInputError, Working
from trainer.rules.words import giver, label

LONGEST: Final = 60  # letters of one quantity
LONGEST_LIST: Final = 600
TAPE: Final = (LENGTH, DISTANCE, LENGTHS)
PART: Final = "1/3"
# Examples that a foreman could have read himself, where the dimension's own would sound odd.
EXAMPLES: Final = {
    "confidence": "90 %",
    "humidity": "60 %",
    "least_sheet_weight": "1 psf",
    "sheet_weight": "1 psf",
    "surface_temperature": "70 degF",
    "temperature_change": "100 degF",
    "total_weight": "1,200 lb",
    "work_time": "8 h",
}


class QuantityField(forms.CharField):
    """A quantity as it is written on the job, read into the value that a rule takes; None when nothing is written."""

    def __init__(self, *, dimension: Dimension, language: str, **kwargs: Any) -> None:
        super().__init__(
            required=False,
            max_length=LONGEST_LIST if dimension.kind is tuple else LONGEST,
            widget=forms.TextInput(attrs={"autocomplete": "off", "autocapitalize": "off", "spellcheck": "false"}),
            **kwargs,
        )
        self.dimension, self.language = dimension, language

    def clean(self, value: Any) -> Any:
        """Read the text.

        Raises:
            ValidationError: It is not a quantity of the field's dimension; says what is wrong and how to write it.
        """
        text = super().clean(value)
        if not text:
            return None
        bare = _bare(text) if self.dimension is SHARE else None
        if bare is not None and 0 < bare <= 1:
            raise forms.ValidationError(
                gettext("“%(text)s” can mean a percent or a part. Write %(percent)s, or a fraction such as %(part)s.")
                % {"text": text, "percent": f"{text} %", "part": PART}
            )
        try:
            return self.dimension.parse(f"{text} %" if bare else text)
        except ValueError as error:
            if self.dimension is COUNT:  # the rules' own sentence asks for a unit, which pieces have not
                raise forms.ValidationError(
                    gettext("“%(text)s” is not a whole number. Write one, such as %(example)s.")
                    % {"text": text, "example": COUNT.example}
                ) from None
            message = getattr(error, "message", None)
            raise forms.ValidationError(message(self.language) if message else str(error)) from None


class FlagField(forms.ChoiceField):
    """Yes or no; None while neither is chosen."""

    def __init__(self, **kwargs: Any) -> None:
        choices = (("yes", _("Yes")), ("no", _("No")))
        super().__init__(required=False, choices=choices, widget=forms.RadioSelect(), **kwargs)

    def clean(self, value: Any) -> bool | None:
        """Give True for yes, False for no."""
        chosen = super().clean(value)
        return chosen == "yes" if chosen else None


def _bare(text: str) -> float | None:
    """Give the number that stands without a mark: above 1 it can only be a percent, below that a part as well."""
    bare = text.replace(",", ".").strip()
    return float(bare) if re.fullmatch(r"\d+(\.\d+)?|\.\d+", bare) else None


class CalculatorForm(forms.Form):
    """The inputs of a rule. Once valid, `working` is the rule's value with its steps."""

    working: Working[Any] | None = None

    def __init__(
        self,
        data: Mapping[str, str] | None,
        *,
        rule: Rule[..., Any],
        language: str,
        first: Container[str] = (),
        **kwargs: Any,
    ) -> None:
        """Make the fields, those named `first` before the others."""
        super().__init__(data, **kwargs)
        self.rule, self.language = rule, language
        self.use_required_attribute = False
        for item in sorted(rule.inputs, key=lambda item: item.name not in first):
            self.fields[item.name] = _field(item, language)
        self.helper = FormHelper()
        self.helper.form_tag = False  # the page adds what the address carries besides
        self.helper.disable_csrf = True
        self.helper.add_input(Submit("", _("Work it out")))

    @property
    def to_mend(self) -> list[forms.BoundField]:
        """The fields that hold the answer up, in the order of the page."""
        return [field for field in self if field.errors]

    def clean(self) -> dict[str, Any]:
        """Check every input against the rule's limits, then work; a refusal stands beside the input it is about."""
        values = {name: value for name, value in self.cleaned_data.items() if value is not None}
        required = {item.name: item for item in self.rule.inputs if item.required}
        for name, error in self.rule.refusals(values).items():
            if name in self.errors:
                continue
            missing = name in required and name not in values
            said = _missing(required[name], self.language) if missing else capfirst(error.text(self.language))
            self.add_error(name, said)
        if not self.errors:
            try:
                self.working = self.rule.answer(values)
            except RuleInputError as error:
                self.add_error(error.name, capfirst(error.text(self.language)))
        return self.cleaned_data


def _field(item: Input, language: str) -> forms.Field:
    name = capfirst(label(item.name, language))
    if item.dimension is FLAG:
        return FlagField(label=name)
    return QuantityField(dimension=item.dimension, language=language, label=name)


def example_of(item: Input, language: str, units: str = "imperial") -> str:
    """Give an example of what an input takes, in the reader's words and the specification's units."""
    example = EXAMPLES.get(item.name, item.dimension.example)
    return item.dimension.text(item.dimension.parse(example), units, language)


def _missing(item: Input, language: str) -> str:
    if item.dimension is FLAG:
        return gettext("Choose yes or no.")
    only = giver(item.name, language)
    if only is not None:
        return gettext("Nothing is written here. %(only)s") % {"only": only}
    return gettext("Nothing is written here. Write it, such as %(example)s.") % {"example": example_of(item, language)}
