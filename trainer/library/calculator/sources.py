"""Where a rule comes from, in words: document, clause, edition, jurisdiction."""

from typing import Any, Final

from django.utils.functional import Promise
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from trainer.rules.registry import Rule

# What sources say in plain words; titles of documents stay as they are printed.
WORDS: Final[dict[str, Promise]] = {
    "common practice": _("common practice"),
    "definition": _("definition"),
    "geometry": _("geometry"),
    "linear expansion": _("linear expansion"),
    "change of length = coefficient × length × change of temperature": _(
        "change of length = coefficient × length × change of temperature"
    ),
    "Magnus formula": _("Magnus formula"),
    "coefficients 17.625 and 243.04 °C": _("coefficients 17.625 and 243.04 °C"),
    "hypergeometric distribution": _("hypergeometric distribution"),
    "drawn without replacement": _("drawn without replacement"),
    "binomial distribution": _("binomial distribution"),
    "a large lot": _("a large lot"),
    "success-run relation": _("success-run relation"),
    "tables I and II-A": _("tables I and II-A"),
    "41.82 lb/ft² per inch of thickness": _("41.82 lb/ft² per inch of thickness"),
    "density of copper": _("density of copper"),
    "0.322 lb/in³ at 68 °F": _("0.322 lb/in³ at 68 °F"),
    "heat index equation": _("heat index equation"),
    "wind chill equation": _("wind chill equation"),
    "OSHA letter of interpretation": _("OSHA letter of interpretation"),
    "August 1, 2000": _("August 1, 2000"),
    "3.3.6, note": _("3.3.6, note"),
    "1926.502(d)(16)(iii) and (iv)": _("1926.502(d)(16)(iii) and (iv)"),
    "US": _("US"),
    "US federal work": _("US federal work"),
    "US model code": _("US model code"),
    "US military work": _("US military work"),
    "US military work; coatings practice": _("US military work; coatings practice"),
    "US federal; state plans differ": _("US federal; state plans differ"),
}


def source_facts(rule: Rule[..., Any]) -> list[dict[str, str]]:
    """Give name and text of each fact of the rule's source; `lang` is "en" where the text stays as it is printed."""
    source = rule.source
    printed = source.document not in WORDS or source.edition  # a definition or a practice is nothing that can be opened
    named = (
        (gettext("Document") if printed else gettext("Basis"), source.document),
        (gettext("Clause") if printed else gettext("In detail"), source.clause),
        (gettext("Edition"), source.edition),
        (gettext("Jurisdiction"), source.jurisdiction),
        (gettext("Edition of this rule"), str(rule.edition)),
    )
    return [{"name": name, "text": _said(text), "lang": _lang(text)} for name, text in named if text]


def _said(text: str) -> str:
    return str(WORDS.get(text, text))


def _lang(text: str) -> str:
    return "" if text in WORDS or not any(letter.isalpha() for letter in text) else "en"
