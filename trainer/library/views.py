"""Pages of the library for staff: modules, previews of lessons and questions, specifications."""

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from trainer.base import ids
from trainer.base.errors import Refused
from trainer.library import queries, services, shelves
from trainer.library.forms import AdoptForm
from trainer.library.models import ModuleVersion, SpecificationRevision
from trainer.people.access import STAFF, Member, MemberRequest, page
from trainer.people.models import Role

AUTHORS = (Role.TRAINER, Role.EVALUATOR, Role.OFFICE, Role.ADMINISTRATOR)
ADOPTERS = (Role.TRAINER, Role.OFFICE, Role.ADMINISTRATOR)


def _module(slug: str) -> ModuleVersion:
    version = queries.current_module(slug)
    if version is None:
        raise Http404
    return version


def _revision(name: str, label: str) -> SpecificationRevision:
    found = queries.revision(name, label)
    if found is None:
        raise Http404
    return found


def _may_adopt(member: Member) -> bool:
    return member.has(*ADOPTERS)


@page(*AUTHORS)
@require_safe
def module_list(request: MemberRequest) -> HttpResponse:
    """List the modules with their questions' states."""
    return render(
        request,
        "library/module_list.html",
        {"shelf": shelves.modules_for(request.member), "may_keep_photos": _may_adopt(request.member)},
    )


@page(*AUTHORS)
@require_safe
def module(request: MemberRequest, slug: str) -> HttpResponse:
    """Show one module: its lesson, its check, its questions."""
    found = shelves.module_for(request.member, _module(slug), search=request.GET.get("search", ""))
    return render(request, "library/module.html", found)


@page(*AUTHORS)
@require_safe
def lesson_preview(request: MemberRequest, slug: str) -> HttpResponse:
    """Show a lesson in either language under any revision."""
    version = _module(slug)
    found = shelves.lesson_under(request.member, version, request.GET.get("language"), request.GET.get("revision"))
    return render(request, "library/lesson_preview.html", found)


@page(*AUTHORS)
@require_safe
def question_preview(request: MemberRequest, slug: str, stem: str) -> HttpResponse:
    """Show a case of a question with answer, steps and mistakes; without a seed in the address, with new numbers."""
    version = _module(slug)
    try:
        question = queries.question(f"{slug}/{stem}", version)
    except LookupError:
        raise Http404 from None
    seed = request.GET.get("seed", "")[:40] or ids.new_code(6)
    found = shelves.case_under(
        request.member,
        version,
        question,
        seed=seed,
        language=request.GET.get("language"),
        label=request.GET.get("revision"),
    )
    return render(request, "library/question_preview.html", found)


@page(*STAFF)
@require_safe
def specifications(request: MemberRequest) -> HttpResponse:
    """List the revisions, which are in force, and what was adopted when."""
    context = {"shelf": shelves.revisions_for(request.member), "may_adopt": _may_adopt(request.member)}
    return render(request, "library/specifications.html", context)


@page(*STAFF)
@require_safe
def specification(request: MemberRequest, name: str, label: str) -> HttpResponse:
    """Show a revision's values, and how it differs from another one."""
    found = shelves.revision_for(request.member, _revision(name, label), compare=request.GET.get("compare", ""))
    return render(request, "library/specification.html", found | {"may_adopt": _may_adopt(request.member)})


@page(*ADOPTERS)
@require_http_methods(["GET", "POST"])
def adopt(request: MemberRequest, name: str, label: str) -> HttpResponse:
    """Adopt a revision from a day on."""
    revision, member = _revision(name, label), request.member
    form = AdoptForm(request.POST or None, today=member.today)
    if form.is_valid():
        try:
            services.adopt_specification(
                company=member.company, revision=revision, on=form.cleaned_data["effective_from"], by=member.account
            )
        except Refused as refused:
            form.add_error(refused.field, str(refused.message))
        else:
            messages.success(request, _("Revision %(revision)s is adopted.") % {"revision": revision.revision})
            return redirect("specifications", company=member.company.slug)
    return render(request, "library/adopt.html", shelves.adoption_of(member, revision) | {"form": form})
