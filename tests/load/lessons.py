"""A lesson page with its drawings beside an empty page of the same layout, first and from the cache, on SQLite."""

import os
import tempfile
import time
from collections.abc import Callable
from statistics import median

TIMES = 15


def main() -> None:
    """Print the page's time, the empty page's and their ratio, for every module."""
    os.environ.update(
        TRAINER_MODE="demo", TRAINER_DATA=tempfile.mkdtemp(prefix="load-"), DJANGO_SETTINGS_MODULE="trainer.settings"
    )
    import django

    django.setup()
    from django.conf import settings
    from django.core.cache import caches
    from django.core.management import call_command
    from django.urls import reverse

    from tests import factories
    from trainer.library import queries as library
    from trainer.library.services import adopt_specification, load_lessons

    call_command("migrate", verbosity=0)
    call_command("createcachetable", verbosity=0)
    load_lessons(folder=settings.LESSONS_DIR)
    company = factories.CompanyFactory.create()
    newest = {row.name: row for row in reversed(library.revisions())}
    for revision in newest.values():
        adopt_specification(company=company, revision=revision, on=company.today())
    client = factories.client_for(factories.member(company))

    def seconds(act: Callable[[], object]) -> float:
        start = time.process_time()
        act()
        return time.process_time() - start

    def get(address: str) -> None:
        answer = client.get(address)
        assert answer.status_code == 200, (address, answer.status_code)

    empty = reverse("my-settings")
    get(empty)
    bare = median(seconds(lambda: get(empty)) for _ in range(TIMES))
    first, kept = [], []
    for version in library.module_versions():
        address = reverse("lesson", kwargs={"slug": version.slug})
        caches["pages"].clear()
        first.append(seconds(lambda address=address: get(address)))  # type: ignore[misc]
        kept.append(median(seconds(lambda address=address: get(address)) for _ in range(TIMES)))  # type: ignore[misc]
    print(f"a page of the layout ({empty}): {bare * 1000:.1f} ms")
    print(f"lesson, made for the first time: {median(first) * 1000:.1f} ms, at most {max(first) * 1000:.1f} ms")
    print(
        f"lesson from the cache: {median(kept) * 1000:.1f} ms, at most {max(kept) * 1000:.1f} ms; "
        f"ratio {median(kept) / bare:.1f}, at most {max(kept) / bare:.1f}"
    )


if __name__ == "__main__":
    main()
