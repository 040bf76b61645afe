"""Small reads for templates: a text in the reader's language, an entry of a mapping."""

from collections.abc import Mapping
from typing import Any

from django import template
from django.utils.translation import get_language

register = template.Library()


@register.filter
def language(texts: Mapping[str, str]) -> str:
    """Give the text of a pair {en, es} in the language of the page."""
    return texts[(get_language() or "en")[:2]]


@register.filter
def item(mapping: Mapping[str, Any], key: str) -> Any:
    """Give a mapping's entry, or the key itself where there is none."""
    return mapping.get(key, key)
