"""The form that sends a picture."""

from typing import Any

from crispy_forms.helper import FormHelper
from crispy_forms.layout import Submit
from django import forms
from django.utils.translation import gettext_lazy as _

from trainer.library.models import Photo
from trainer.library.photographs.pictures import MOST_BYTES


class PhotoForm(forms.Form):
    """A picture for a place of the content, with what is to be seen on it."""

    place = forms.ChoiceField(label=_("Where it is shown"))
    anchor = forms.ChoiceField(label=_("What the work on it is"), choices=Photo.Anchor.choices)
    alt_en = forms.CharField(
        label=_("What is to be seen, in English"),
        max_length=300,
        help_text=_("Shown under the picture, and read aloud to who cannot see it. Name no person."),
    )
    alt_es = forms.CharField(label=_("What is to be seen, in Spanish"), max_length=300)
    file = forms.FileField(
        label=_("Picture"),
        help_text=_(
            "JPEG, PNG or WebP, at most %(most)d MB. Place, date and camera are taken out of it. "
            "Ask whoever can be recognized on it before you send it."
        )
        % {"most": MOST_BYTES // 1024 // 1024},
        widget=forms.ClearableFileInput(attrs={"accept": "image/jpeg,image/png,image/webp"}),
    )

    def __init__(self, *args: Any, places: list[tuple[str, str]], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["place"].choices = places  # type: ignore[attr-defined]
        self.helper = FormHelper()
        self.helper.add_input(Submit("add", _("Add the picture")))
