"""A value's limit and reading tolerance, as they stand on a sheet."""

from trainer.questions.model import BothLanguages, Language
from trainer.questions.phrases import phrase
from trainer.questions.told import NOTHING, Told
from trainer.rules.specification import Value


def limit_text(value: Value, units: str) -> BothLanguages:
    """Write what is asked for: `at least 4 in`, `1/16 in to 3/16 in`."""

    def told(language: Language) -> str:
        dimension = value.dimension
        if value.limit == "range":
            least, most = (dimension.text(bound, units, language) for bound in (value.least, value.most))
            return phrase("range", language, least=least, most=most)
        return phrase(value.limit, language, value=dimension.text(value.value, units, language))

    return Told(told)


def tolerance_text(value: Value, units: str) -> BothLanguages:
    """Write how far a reading may be off for the tape's sake; nothing where there is no tolerance."""
    tolerance = value.tolerance
    if not tolerance:
        return NOTHING
    return Told(lambda language: f"± {value.dimension.text(tolerance, units, language)}")
