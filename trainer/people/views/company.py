"""The company's own settings."""

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from trainer.base.errors import Refused
from trainer.people import services
from trainer.people.access import MemberRequest, page
from trainer.people.forms import SettingsForm
from trainer.people.views.people import MANAGE


@require_http_methods(["GET", "HEAD", "POST"])
@page(*MANAGE)
def company_settings(request: MemberRequest) -> HttpResponse:
    """Show the settings with what each does; on POST change them."""
    company = request.member.company
    form = SettingsForm(request.POST or None, company=company)
    if request.method == "POST" and form.is_valid():
        try:
            services.change_settings(company=company, by=request.member.account, **form.cleaned_data)
        except Refused as refused:
            form.show(refused)
        else:
            messages.success(request, _("Saved."))
            return redirect("company-settings", company=company.slug)
    return render(request, "people/company_settings.html", {"form": form})
