"""The answer that holds a record on paper."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from trainer.records.models import CompletionRecord
from trainer.records.paper import UnprintableError, record_pdf


def paper_answer(request: HttpRequest, record: CompletionRecord) -> HttpResponse:
    """Give the PDF, or a page that names the letter that cannot be printed."""
    try:
        content = record_pdf(record)
    except UnprintableError as error:
        context = {"letter": error.letter, "text": error.text, "record": record}
        return render(request, "records/unprintable.html", context, status=422)
    answer = HttpResponse(content, content_type="application/pdf")
    answer["Content-Disposition"] = f'inline; filename="record-{record.serial}.pdf"'
    return answer
