"""The matrix of 500 people by 12 columns beside two hand-written SQL queries for the same cells, same database."""

import os
import tempfile
import time
from collections.abc import Callable
from datetime import timedelta
from typing import Any

PEOPLE, MODULES, QUALIFICATIONS = 500, 10, 2
LISTED = """
SELECT a.id, a.ref, a.name, m.number FROM (
    SELECT account_id, number, roles, row_number() OVER (
        PARTITION BY account_id ORDER BY effective_from DESC, recorded_at DESC, id DESC) AS place
    FROM people_membership WHERE company_id = %(company)s AND effective_from <= %(on)s
) m JOIN people_account a ON a.id = m.account_id
WHERE m.place = 1 AND (m.roles LIKE '%%trainee%%' OR m.roles LIKE '%%foreman%%') ORDER BY a.name, a.id
"""
HELD = """
SELECT account_id, kind, subject, valid_until, ref, revision FROM (
    SELECT r.account_id, r.kind, r.subject, r.valid_until, r.ref, s.revision, row_number() OVER (
        PARTITION BY r.account_id, r.kind, r.subject
        ORDER BY coalesce(r.valid_until, '9999-12-31') DESC, r.id DESC) AS place
    FROM records_completionrecord r
    LEFT JOIN records_recordrevocation v ON v.record_id = r.id AND v.effective_from <= %(on)s
    LEFT JOIN library_specificationrevision s ON s.id = r.specification_revision_id
    WHERE r.company_id = %(company)s AND r.effective_on <= %(on)s AND v.id IS NULL
) standing WHERE place = 1
"""


def main() -> None:
    """Print both times and their ratio, after checking that both give the same cells."""
    if not os.environ.get("DATABASE_URL"):
        os.environ["TRAINER_DATA"] = tempfile.mkdtemp(prefix="load-")
    os.environ.update(TRAINER_MODE="demo", DJANGO_SETTINGS_MODULE="trainer.settings")
    import django

    django.setup()
    from django.core.management import call_command
    from django.db import connection

    from trainer.audit import queries

    call_command("migrate", verbosity=0)
    company = fill()
    as_of = queries.AsOf(company.today())

    def ours() -> list[Any]:
        across = queries.columns(company, as_of)
        return queries.rows_of(company, queries.people(company, as_of), across, as_of)

    def hand_written() -> list[tuple[Any, dict[Any, Any]]]:
        cells: dict[Any, dict[Any, Any]] = {}
        with connection.cursor() as cursor:
            cursor.execute(HELD, {"company": company.pk, "on": as_of.on})
            for account, kind, subject, *held in cursor.fetchall():
                cells.setdefault(account, {})[kind, subject] = held
            cursor.execute(LISTED, {"company": company.pk, "on": as_of.on})
            return [(person, cells.get(person[0], {})) for person in cursor.fetchall()]

    rows = ours()
    held = {(row.name, *cell.column.key) for row in rows for cell in row.cells if cell.record is not None}
    wanted = {(person[2], *key) for person, cells in hand_written() for key in cells}
    if held != wanted:
        raise SystemExit(f"the matrix and the queries differ in {len(held ^ wanted)} cells")
    matrix, bare = best_of(ours), best_of(hand_written)
    cells = sum(len(row.cells) for row in rows)
    print(f"matrix: {len(rows)} people by {cells // len(rows)} columns, {len(held)} cells held")
    print(f"  {matrix * 1000:.0f} ms; hand-written SQL {bare * 1000:.0f} ms; ratio {matrix / bare:.1f}")


def best_of(work: Callable[[], Any], tries: int = 7) -> float:
    """Give the least time of several tries, in seconds."""
    times = []
    for _try in range(tries):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return min(times)


def fill() -> Any:
    """Make a company of so many people, most of whom hold most modules, some twice, some revoked."""
    import random

    from django.db import transaction

    from tests import factories
    from tests.records import scene
    from trainer.base import clock
    from trainer.people.models import Account, Membership
    from trainer.records import services
    from trainer.records.models import CompletionRecord

    chance = random.Random(7)
    with transaction.atomic():
        company = factories.CompanyFactory.create()
        office = factories.member(company, "office")
        slugs = [f"module-{number}" for number in range(MODULES)]
        for slug in slugs:
            scene.module(slug)
        for number in range(QUALIFICATIONS):
            services.define_qualification(
                company=company,
                by=None,
                title_en=f"Qualification {number}",
                title_es=f"Habilitación {number}",
                modules=slugs[number * 2 : number * 2 + 2],
                valid_months=None,
                effective_from=company.today(),
            )
        accounts = Account.objects.bulk_create(Account(name=f"Hand {number:04d}") for number in range(PEOPLE))
        Membership.objects.bulk_create(
            Membership(company=company, account=account, effective_from=factories.LONG_AGO, roles="trainee")
            for account in accounts
        )
        made = MadeRows(company, scene, chance)
        for account in accounts:
            for slug in slugs:
                for _time in range(chance.choice((0, 1, 1, 2))):
                    made.add(account, slug, company.today() - timedelta(days=chance.randint(1, 900)))
        made.keep()
        for row in list(CompletionRecord.objects.filter(company=company).order_by("pk")[:50]):
            with clock.fixed(clock.now()):
                services.revoke(record=row, by=office.account, reason_code="entered-in-error", reason="")
    return company


class MadeRows:
    """Sittings and records made by the thousand, past the services, which would take minutes."""

    def __init__(self, company: Any, scene: Any, chance: Any) -> None:
        self.company, self.scene, self.chance = company, scene, chance
        self.rows: list[tuple[Any, str, Any, int]] = []
        self.numbers: dict[tuple[int, str], int] = {}

    def add(self, account: Any, slug: str, day: Any) -> None:
        """Note one record to make."""
        number = self.numbers.get((account.pk, slug), 0) + 1
        self.numbers[account.pk, slug] = number
        self.rows.append((account, slug, day, number))

    def keep(self) -> None:
        """Insert all that was noted."""
        from trainer.base import ids
        from trainer.base.models import Evidence
        from trainer.exams.models import Sitting
        from trainer.records.models import CompletionRecord, RegisterEntry, RegisterHead

        revision = self.scene.revision()
        versions = {slug: self.scene.module(slug) for slug in {slug for _a, slug, _d, _n in self.rows}}
        plans = {slug: self.scene.plan(slug) for slug in versions}
        start = RegisterHead.objects.get(company=self.company).size
        sittings = Sitting.objects.bulk_create(
            Sitting(
                company=self.company,
                account=account,
                module=slug,
                number=number,
                plan=plans[slug],
                module_version=versions[slug],
                specification_revision=revision,
                language="en-us",
                started_at=self.scene.at(day) - timedelta(minutes=20),
                ends_at=self.scene.at(day) + timedelta(minutes=10),
                seed="",
            )
            for account, slug, day, number in self.rows
        )
        documents = Evidence.objects.bulk_create(
            Evidence(digest=f"{number:064x}", body=b"") for number in range(len(self.rows))
        )
        # Entries far above the head, so that the services go on from where it stands.
        entries = RegisterEntry.objects.bulk_create(
            RegisterEntry(company=self.company, seq=start + 1_000_000 + number, leaf="{}", leaf_hash=f"{number:064x}")
            for number in range(len(self.rows))
        )
        CompletionRecord.objects.bulk_create(
            CompletionRecord(
                company=self.company,
                account=account,
                kind="module",
                subject=slug,
                serial=f"load-{number}",
                code=ids.new_code(),
                language="en-us",
                effective_on=day,
                valid_until=day + timedelta(days=730),
                sitting=sittings[number],
                module_version=versions[slug],
                specification_revision=revision,
                document=documents[number],
                holder_digest="",
                entry=entries[number],
                issued_at=self.scene.at(day),
            )
            for number, (account, slug, day, _turn) in enumerate(self.rows)
        )


if __name__ == "__main__":
    main()
