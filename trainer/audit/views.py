"""Pages of the audit: the matrix and its files, what lapses, a foreman's crew."""

from dataclasses import dataclass
from datetime import date

from django.core.paginator import Paginator
from django.db.models import QuerySet
from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from trainer.audit import queries, sheets
from trainer.audit.forms import LapsesForm, MatrixForm
from trainer.people.access import MemberRequest, page
from trainer.people.models import Membership, Role
from trainer.records.queries import register_head
from trainer.records.states import STATE_WORDS

SEES_ALL = (Role.TRAINER, Role.EVALUATOR, Role.OFFICE, Role.ADMINISTRATOR)
XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"


@dataclass(frozen=True)
class Asked:
    """What the address asks for: the form, the day and knowledge, and the people."""

    form: MatrixForm
    as_of: queries.AsOf
    known_on: date | None
    people: "QuerySet[Membership]"


@require_safe
@page(*SEES_ALL)
def matrix(request: MemberRequest) -> HttpResponse:
    """Show who held what on a day, as known on a day."""
    asked = _asked(request)
    company = request.member.company
    across = queries.columns(company, asked.as_of)
    listed = Paginator(asked.people, 50).get_page(request.GET.get("page"))
    context = {
        "form": asked.form,
        "as_of": asked.as_of,
        "known_on": asked.known_on,
        "columns": across,
        "rows": queries.rows_of(company, listed.object_list, across, asked.as_of),
        "page": listed,
        "query": _without_page(request),
        "legend": STATE_WORDS.items(),
    }
    return render(request, "audit/matrix.html", context)


@require_safe
@page(*SEES_ALL)
def matrix_csv(request: MemberRequest) -> HttpResponse:
    """Give the whole matrix as CSV."""
    return _file(sheets.csv_bytes(_table(request)), "text/csv; charset=utf-8", _name(request, "csv"))


@require_safe
@page(*SEES_ALL)
def matrix_xlsx(request: MemberRequest) -> HttpResponse:
    """Give the whole matrix as a workbook."""
    return _file(sheets.xlsx_bytes(_table(request)), XLSX, _name(request, "xlsx"))


@require_safe
@page(Role.TRAINER, Role.OFFICE, Role.ADMINISTRATOR)
def lapses(request: MemberRequest) -> HttpResponse:
    """Show what lapses in the next days, soonest first."""
    form = LapsesForm(request.GET or {"days": "60"})
    within, search = form.chosen()
    found = queries.lapses(request.member.company, within=within, search=search)
    listed = Paginator(found, 50).get_page(request.GET.get("page"))
    context = {"form": form, "page": listed, "query": _without_page(request), "within": within}
    return render(request, "audit/lapses.html", context)


@require_safe
@page(Role.FOREMAN)
def my_crew(request: MemberRequest) -> HttpResponse:
    """Show a foreman who of the own crew may do what today."""
    context = {"crews": queries.crew_rows(request.member), "legend": STATE_WORDS.items()}
    return render(request, "audit/my_crew.html", context)


def _asked(request: MemberRequest) -> Asked:
    company = request.member.company
    form = MatrixForm(
        request.GET or {"on": request.member.today}, crews=company.crews.all(), today=request.member.today
    )
    chosen = form.chosen()
    as_of = queries.AsOf(chosen["on"], queries.now_known(company, chosen["known_on"]))
    people = queries.people(company, as_of, search=chosen["search"], crew=chosen["crew"])
    return Asked(form, as_of, chosen["known_on"], people)


def _table(request: MemberRequest) -> sheets.Table:
    asked = _asked(request)
    company = request.member.company
    across = queries.columns(company, asked.as_of)
    rows = queries.rows_of(company, asked.people, across, asked.as_of)
    return sheets.table_of(company, across, rows, asked.as_of, register_head(company))


def _name(request: MemberRequest, ending: str) -> str:
    return f"matrix-{request.member.company.slug}-{_asked(request).as_of.on.isoformat()}.{ending}"


def _without_page(request: MemberRequest) -> str:
    asked = request.GET.copy()
    asked.pop("page", None)
    return asked.urlencode()


def _file(content: bytes, kind: str, name: str) -> HttpResponse:
    answer = HttpResponse(content, content_type=kind)
    answer["Content-Disposition"] = f'attachment; filename="{name}"'
    return answer
