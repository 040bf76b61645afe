"""Small filters of the pages of exams."""

import json
from collections.abc import Mapping
from typing import Any

from django import template

from trainer.exams.models import ExamPlan

register = template.Library()


@register.filter
def in_language(texts: Mapping[str, str], language: str) -> str:
    """Give the text of a mapping from `en` and `es`."""
    return texts[language]


@register.filter
def reason_in(plan: ExamPlan, language: str) -> str:
    """Give the reason for a plan's passing score in `en` or `es`."""
    return plan.reason_es if language == "es" else plan.reason_en


@register.filter
def critical_count(plan: ExamPlan) -> int:
    """Count the critical questions of a plan."""
    return len(json.loads(plan.critical))


@register.filter
def lookup(table: Mapping[str, Any], key: str) -> Any:
    """Give a table's entry; the key itself where it has none."""
    return table.get(key, key)
