"""Pages of training: lessons and practice for trainees, assignments for trainers."""

from uuid import UUID

from django.conf import settings
from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from trainer.base.errors import Refused
from trainer.library.rendering import render_lesson
from trainer.library.responses import read_response
from trainer.people.access import MemberRequest, page
from trainer.people.models import Role
from trainer.questions.evidence import public_case
from trainer.training import queries, services
from trainer.training.feedback import feedback_on
from trainer.training.forms import AssignForm
from trainer.training.progress import progress_of

READERS = (Role.TRAINEE, Role.FOREMAN)


@require_safe
@page(*READERS)
def lessons(request: MemberRequest) -> HttpResponse:
    """List the lessons, with the minutes that the member has read in each."""
    rows = queries.lesson_list(request.member)
    return render(request, "training/lessons.html", {"rows": rows})


@require_safe
@page(*READERS)
def lesson(request: MemberRequest, slug: str) -> HttpResponse:
    """Show a lesson filled with the values that the company installs to today.

    A trainee's reading is kept; a foreman who is no trainee reads it to teach it, and nothing of that is kept.
    """
    found = queries.lesson_for(request.member, slug)
    context = {
        "module": found.module,
        "version": found.version,
        "adopted": found.adopted,
        "title": found.module.title[request.member.language],
    }
    if found.adopted is not None:
        revision = found.adopted.revision
        context["lesson"] = render_lesson(found.version, revision, request.member.language, request.member.company)
        if request.member.has(Role.TRAINEE):
            context["reading"] = services.open_reading(member=request.member, version=found.version, revision=revision)
    return render(request, "training/lesson.html", context)


@require_POST
@page(Role.TRAINEE)
def reading_end(request: MemberRequest, slug: str, ref: UUID) -> HttpResponse:
    """Keep that the lesson was read, then go on to practice."""
    rows = queries.own_readings(request.member)
    reading = get_object_or_404(rows, ref=ref, module_version__slug=slug)
    end = services.finish_reading(reading=reading)
    messages.success(request, _("Kept: lesson read, %(minutes)s min. Now practice.") % {"minutes": end.minutes})
    return redirect("practice")


@require_safe
@page(Role.TRAINEE)
def practice(request: MemberRequest) -> HttpResponse:
    """List the modules to practice and how each goes."""
    return render(request, "training/practice.html", {"rows": queries.practice_list(request.member)})


@require_POST
@page(Role.TRAINEE)
def practice_draw(request: MemberRequest, slug: str) -> HttpResponse:
    """Draw a case and show it."""
    try:
        row = services.draw_case(member=request.member, module=slug, question_id=request.POST.get("question") or None)
    except Refused as refused:
        messages.error(request, str(refused.message))
        return redirect("practice")
    return redirect("practice-case", ref=row.ref)


@page(Role.TRAINEE)
def practice_case(request: MemberRequest, ref: UUID) -> HttpResponse:
    """Show a drawn case; take the answer and say at once what was right and what was not."""
    row = get_object_or_404(queries.practice_cases(request.member), ref=ref)
    case, language = queries.case_of(row), request.member.language
    response, verdict = services.kept_response(row), None
    if request.method == "POST" and row.answered_at is None:
        response = read_response(case.kind, request.POST)
        verdict = services.answer_case(row=row, response=response, language=language)
        if not (verdict.problem or verdict.blank):
            return redirect("practice-case", ref=ref)
    told, shown = feedback_on(row, case, queries.question_of(row), language), public_case(case, language)
    shown["photos"] = queries.photos_shown(row, language)
    if told is not None:
        shown["drawing"] = None  # the drawing comes with the verdict, its numbers filled in
    context = {
        "row": row,
        "case": shown,
        "response": response,
        "problem": queries.problem_with(verdict),
        "told": told,
        "standing": queries.module_standing(request.member, row.module),
    }
    return render(request, "training/practice_case.html", context)


@require_safe
@page(Role.TRAINER, Role.OFFICE)
def assignments(request: MemberRequest) -> HttpResponse:
    """List what is assigned in the company, latest due day first."""
    rows = queries.assignments(request.member)
    shown = Paginator(rows.order_by("-due", "-pk"), 50).get_page(request.GET.get("page"))
    return render(
        request, "training/assignments.html", {"page": shown, "titles": queries.module_titles(request.member)}
    )


@page(Role.TRAINER, Role.OFFICE)
def assign(request: MemberRequest) -> HttpResponse:
    """Assign a module to a crew or a person."""
    choices = queries.assign_choices(request.member)
    form = AssignForm(request.POST or None, **choices)
    if request.method == "POST" and form.is_valid():
        wanted = form.cleaned_data
        try:
            made = services.assign(
                company=request.member.company,
                module=wanted["module"],
                due=wanted["due"],
                by=request.member.account,
                account=wanted["person"],
                crew=wanted["crew"],
            )
        except Refused as refused:
            form.add_error(refused.field if refused.field in form.fields else None, str(refused.message))
        else:
            messages.success(request, _("Assigned. Copy the message below and send it."))
            return redirect("assignment", company=request.member.company.slug, ref=made.ref)
    return render(request, "training/assign.html", {"form": form})


@page(Role.TRAINER, Role.OFFICE)
def assignment(request: MemberRequest, ref: UUID) -> HttpResponse:
    """Show one assignment: the message to copy, and how far each person is; withdraw it."""
    rows = queries.assignments(request.member)
    row = get_object_or_404(rows, ref=ref)
    if request.method == "POST":
        services.withdraw(assignment=row, by=request.member.account)
        messages.success(request, _("Withdrawn. What was read and passed meanwhile stays."))
        return redirect("assignment", company=request.member.company.slug, ref=ref)
    context = {
        "row": row,
        "title": queries.module_titles(request.member).get(row.module, row.module),
        "link": settings.ORIGIN + reverse("lesson", kwargs={"slug": row.module}),
        "people": progress_of(row, on=request.member.today),
    }
    return render(request, "training/assignment.html", context)
