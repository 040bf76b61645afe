"""The page where a stranger verifies a record by the code on its paper."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from trainer.base.ids import read_code
from trainer.records import queries
from trainer.records.limits import lookup_allowed
from trainer.records.showing import sheet_of, spaced


@require_safe
@never_cache
def look_up(request: HttpRequest) -> HttpResponse:
    """Ask for the code; send on to its page."""
    code = read_code(request.GET.get("code", ""))
    if code:
        return redirect("verify", code=code[:40])
    return _answer(request, "records/verify_lookup.html", {})


@require_safe
@never_cache
def verify(request: HttpRequest, code: str) -> HttpResponse:
    """Say who completed what, when, and whether it still holds; nothing of score or sitting."""
    if not lookup_allowed(request):
        return _answer(request, "records/verify_wait.html", {}, status=429)
    record = queries.record_by_code(code)
    if record is None:
        return _answer(request, "records/verify_unknown.html", {"code": spaced(read_code(code))}, status=404)
    sheet = sheet_of(record)
    return _answer(request, "records/verify.html", {"sheet": sheet, "code": spaced(record.code)})


def _answer(request: HttpRequest, template: str, context: dict[str, object], status: int = 200) -> HttpResponse:
    answer = render(request, template, context, status=status)
    answer["X-Robots-Tag"] = "noindex, nofollow"
    return answer
