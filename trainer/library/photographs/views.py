"""Pages of a company's own pictures: the list, adding one, taking one away, and the picture itself."""

from uuid import UUID

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from trainer.base.errors import Refused
from trainer.library.models import Photo
from trainer.library.photographs import queries, services
from trainer.library.photographs.forms import PhotoForm
from trainer.library.rendering import photo_figure
from trainer.people.access import Member, MemberRequest, page
from trainer.people.models import Role

KEEPERS = (Role.TRAINER, Role.OFFICE, Role.ADMINISTRATOR)


def _photo(member: Member, ref: UUID) -> Photo:
    found = Photo.objects.visible_to(member).select_related("company").filter(ref=ref, end__isnull=True).first()
    if found is None:
        raise Http404
    return found


@page(*KEEPERS)
@require_safe
def photos(request: MemberRequest) -> HttpResponse:
    """List the company's pictures as a lesson shows them, and the places that the content has for them."""
    member = request.member
    shown = [(photo, photo_figure(photo, member.language)) for photo in queries.photos_of(member)]
    return render(request, "library/photos.html", {"photos": shown, "places": list(queries.places().values())})


@page(*KEEPERS)
@require_http_methods(["GET", "POST"])
def photo_add(request: MemberRequest) -> HttpResponse:
    """Add a picture to a place."""
    member = request.member
    named = [
        (place.name, f"{place.name} ({', '.join(title[member.language] for title in place.modules)})")
        for place in queries.places().values()
    ]
    form = PhotoForm(
        request.POST or None, request.FILES or None, places=named, initial={"place": request.GET.get("place", "")}
    )
    if form.is_valid():
        try:
            _add(member, form)
        except Refused as refused:
            form.add_error(refused.field, str(refused))
        else:
            messages.success(request, _("The picture was added."))
            return redirect("photos", company=member.company.slug)
    return render(request, "library/photo_add.html", {"form": form}, status=422 if form.errors else 200)


def _add(member: Member, form: PhotoForm) -> None:
    cleaned = form.cleaned_data
    services.add_photo(
        company=member.company,
        place=cleaned["place"],
        anchor=cleaned["anchor"],
        alt={"en": cleaned["alt_en"], "es": cleaned["alt_es"]},
        file=cleaned["file"],
        size=cleaned["file"].size,
        by=member.account,
    )


@page(*KEEPERS)
@require_POST
def photo_end(request: MemberRequest, ref: UUID) -> HttpResponse:
    """Take a picture away from its place."""
    services.end_photo(photo=_photo(request.member, ref), by=request.member.account)
    messages.success(request, _("The picture was taken away."))
    return redirect("photos", company=request.member.company.slug)


@page(*Role.values)
@require_safe
def photo_picture(request: MemberRequest, ref: UUID) -> HttpResponse:
    """Send the picture itself, to members of its company."""
    body = queries.body_of(_photo(request.member, ref))
    if body is None:
        raise Http404
    return HttpResponse(body, content_type="image/jpeg", headers={"Content-Security-Policy": "default-src 'none'"})
