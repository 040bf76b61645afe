"""The bill of materials of a roof: its rectangles and edge typed in, what it takes listed with how that was found."""

import re
from collections.abc import Mapping
from typing import Any, Final
from urllib.parse import urlencode

from crispy_forms.helper import FormHelper
from crispy_forms.layout import Submit
from django import forms
from django.utils.text import capfirst
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from trainer.library.calculator import catalog
from trainer.library.calculator.forms import QuantityField
from trainer.library.calculator.sheets import adopted_by, page_language
from trainer.people.access import Member
from trainer.rules.bill import Deck, Line, bill_of_materials
from trainer.rules.dimensions import LENGTH
from trainer.rules.registry import RuleInputError
from trainer.rules.specification import Specification
from trainer.rules.words import label, value_text

MOST: Final = 50  # rectangles of one roof
NEEDED: Final = ("base.overhang", "cap.roll_width", "edge.strip_width.least")
_BETWEEN = re.compile(r"\s+[x×]\s+")


class BillForm(forms.Form):
    """The rectangles of a roof and its edge. Once valid, `lines` is the bill."""

    lines: tuple[Line, ...] = ()

    def __init__(
        self, data: Mapping[str, str] | None, *, specification: Specification, language: str, **kwargs: Any
    ) -> None:
        super().__init__(data, **kwargs)
        self.specification, self.language = specification, language
        self.use_required_attribute = False
        self.fields["rectangles"] = forms.CharField(
            label=_("Rectangles of the roof, one on each line"),
            help_text=_("Up the slope, then along the eave: 24 ft 6 in x 40 ft"),
            max_length=4000,
            widget=forms.Textarea(attrs={"rows": 4, "autocomplete": "off", "spellcheck": "false"}),
        )
        self.fields["edge"] = QuantityField(dimension=LENGTH, language=language, label=_("Edge of the roof all round"))
        self.fields["edge"].help_text = _("Known for one rectangle. Measure it where there are more.")
        self.helper = FormHelper()
        self.helper.form_tag = False
        self.helper.disable_csrf = True
        self.helper.add_input(Submit("", _("Work it out")))

    def clean_rectangles(self) -> list[Deck]:
        """Read the lines; the first that cannot be read is named by its number."""
        typed = [line.strip() for line in self.cleaned_data["rectangles"].splitlines() if line.strip()]
        if len(typed) > MOST:
            raise forms.ValidationError(gettext("At most %(most)s rectangles make one bill.") % {"most": MOST})
        return [self._rectangle(number, line) for number, line in enumerate(typed, 1)]

    def _rectangle(self, number: int, line: str) -> Deck:
        sides = _BETWEEN.split(line)
        try:
            run, eave = (LENGTH.parse(side) for side in sides)
        except ValueError:
            raise forms.ValidationError(
                gettext("Line %(number)s, “%(line)s”, is not two lengths. Write them so: 24 ft 6 in x 40 ft.")
                % {"number": number, "line": line[:60]}
            ) from None
        return Deck(run, eave)

    def clean(self) -> dict[str, Any]:
        """Work the bill; a refusal stands beside the field it is about."""
        if not self.errors:
            decks, edge = self.cleaned_data["rectangles"], self.cleaned_data["edge"]
            try:
                self.lines = bill_of_materials(decks, self.specification, edge=edge)
            except RuleInputError as error:
                field = "edge" if error.name == "edge" else "rectangles"
                self.add_error(field, capfirst(error.text(self.language)))
        return self.cleaned_data


def bill_for(member: Member, query: Mapping[str, str]) -> dict[str, Any]:
    """Give the page of the bill: its form and, once the roof is typed in, the lines of the bill."""
    language = page_language()
    in_use = next((one for one in adopted_by(member).values() if _holds(one.specification)), None)
    if in_use is None:
        return {"adopted": None, "form": None}
    specification = in_use.specification
    sent = {name: query[name] for name in ("rectangles", "edge") if name in query}
    form = BillForm(sent or None, specification=specification, language=language)
    lines = form.lines if form.is_bound and form.is_valid() else ()
    return {
        "form": form,
        "adopted": in_use,
        "specification_title": specification.title[language],
        "lines": [_row(line, specification, language) for line in lines],
        "link": urlencode(sent) if lines else "",
    }


def _holds(specification: Specification) -> bool:
    return all(specification.give(name) is not None for name in NEEDED)


def _row(line: Line, specification: Specification, language: str) -> dict[str, Any]:
    """Put one line into words: the item, how much, and each rule that went into it with what it gave."""
    return {
        "item": capfirst(label(line.item, language)),
        "text": value_text(line.item, line.value, language, specification.units),
        "rules": [
            {
                "title": catalog.title_of(working.rule.name, language),
                "text": working.rule.result.text(working.value, specification.units, language),
            }
            for working in line.workings
            if working.rule is not None
        ],
    }
