"""How often one address may look a code up, counted in the shared cache so that it holds across processes."""

from typing import Final

from allauth.account.adapter import get_adapter
from django.core.cache import cache
from django.http import HttpRequest

from trainer.base import clock
from trainer.base.canonical import sha256_hex

LOOKUPS_A_MINUTE: Final = 30


def lookup_allowed(request: HttpRequest) -> bool:
    """Count a look-up and tell whether the address is still within its number for this minute."""
    address = get_adapter(request).get_client_ip(request)
    minute = int(clock.now().timestamp()) // 60
    key = f"verify:{sha256_hex(str(address))[:32]}:{minute}"
    cache.add(key, 0, timeout=120)
    try:
        return cache.incr(key) <= LOOKUPS_A_MINUTE
    except ValueError:  # the entry was dropped between the two calls
        return True
