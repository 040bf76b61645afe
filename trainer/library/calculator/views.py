"""Pages of the calculator: the list of rules, the bill of a roof, and one rule with its inputs and answer."""

from django.http import Http404, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from trainer.library.calculator import bill as bills
from trainer.library.calculator import sheets
from trainer.people.access import MemberRequest, page
from trainer.people.models import Role
from trainer.rules.registry import REGISTRY

READERS = (Role.FOREMAN, Role.TRAINER, Role.EVALUATOR, Role.OFFICE)


@page(*READERS)
@require_safe
def calculator(request: MemberRequest) -> HttpResponse:
    """List the rules: those of most days first, the others behind "more"."""
    search = request.GET.get("search", "").strip()[:100]
    return render(request, "library/calculator/calculator.html", sheets.list_for(request.member, search))


@page(*READERS)
@require_safe
def bill(request: MemberRequest) -> HttpResponse:
    """Show the bill of materials of a roof; the address carries its rectangles and edge."""
    found = bills.bill_for(request.member, request.GET)
    if found.get("link"):
        found["link"] = request.build_absolute_uri(f"{request.path}?{found['link']}")
    return render(request, "library/calculator/bill.html", found)


@page(*READERS)
@require_safe
def calculator_rule(request: MemberRequest, rule: str) -> HttpResponse:
    """Show one rule; the address carries its inputs, so that the worked sheet can be sent as a link."""
    if rule not in REGISTRY:
        raise Http404
    found = sheets.sheet_for(request.member, REGISTRY[rule], request.GET)
    if found["link"]:
        found["link"] = request.build_absolute_uri(f"{request.path}?{found['link']}")
    return render(request, "library/calculator/rule.html", found)
