"""Pages of staff: the exam plans of the company, and the sittings of its people."""

from uuid import UUID

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils.http import urlencode
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from trainer.base.errors import Refused
from trainer.exams import plans as changes
from trainer.exams import queries, services, staff_showing
from trainer.exams.forms import PlanForm
from trainer.people.access import MemberRequest, page
from trainer.people.models import Role


@require_safe
@page(Role.TRAINER, Role.OFFICE)
def plans(request: MemberRequest) -> HttpResponse:
    """List the plan in force of each module."""
    lines = staff_showing.plan_lines(request.member)
    return render(request, "exams/plans.html", {"lines": lines})


@require_http_methods(["GET", "HEAD", "POST"])
@page(Role.TRAINER)
def plan(request: MemberRequest, module: str) -> HttpResponse:
    """Show a module's plan and what it lets through; on POST publish the company's own from a day on."""
    shown = staff_showing.plan_page(request.member, module)
    if shown is None:
        raise Http404
    form = PlanForm(request.POST or None, plan=shown.plan, initial=staff_showing.plan_initial(request.member, shown))
    if request.method == "POST" and form.is_valid():
        try:
            changes.publish_plan(
                company=request.member.company, module=module, by=request.member.account, **form.cleaned_data
            )
        except Refused as refused:
            form.add_error(refused.field, str(refused.message))
        else:
            messages.success(request, _("Published. Sittings that began before keep the plan they began under."))
            return redirect("exam-plan", company=request.member.company.slug, module=module)
    return render(request, "exams/plan.html", {"shown": shown, "form": form})


@require_POST
@page(Role.TRAINER)
def default(request: MemberRequest, module: str) -> HttpResponse:
    """Let the company follow the default plan again from today on."""
    try:
        changes.follow_default(
            company=request.member.company,
            module=module,
            effective_from=request.member.today,
            by=request.member.account,
        )
    except Refused as refused:
        messages.error(request, str(refused.message))
    else:
        messages.success(request, _("From today on your company follows the default plan again."))
    return redirect("exam-plan", company=request.member.company.slug, module=module)


@require_safe
@page(Role.TRAINER, Role.OFFICE, Role.FOREMAN)
def sittings(request: MemberRequest) -> HttpResponse:
    """List the sittings that the member may see, the latest first."""
    services.end_overdue(company=request.member.company)
    search, module = request.GET.get("q", "").strip(), request.GET.get("module", "")
    rows = queries.visible_sittings(request.member, search=search, module=module)
    context = {
        "page": Paginator(rows, 50).get_page(request.GET.get("page")),
        "titles": staff_showing.titles(request.member),
        "search": search,
        "module": module,
        "query": urlencode({"q": search, "module": module}),
    }
    return render(request, "exams/sittings.html", context)


@require_safe
@page(Role.TRAINER, Role.OFFICE)
def sitting(request: MemberRequest, ref: UUID) -> HttpResponse:
    """Show one sitting; once it has ended, how each sheet was judged."""
    found = queries.visible_sitting(request.member, ref)
    if found is not None and services.end_if_overdue(found):
        found = queries.visible_sitting(request.member, ref)
    if found is None:
        raise Http404
    context = {
        "sitting": found,
        "sheets": staff_showing.judged_sheets(found, request.member.language),
        "titles": staff_showing.titles(request.member),
    }
    return render(request, "exams/sitting.html", context)
