"""Choose the questions of one sitting: the plan's topics and counts, its critical questions, the rest by the seed.

No database: the same seed, plan and questions always give the same sheets.
"""

import hashlib
from collections import Counter
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass

from django.utils.translation import gettext as _


@dataclass(frozen=True)
class Candidate:
    """A question that may stand in an exam: its id MODULE/QUESTION, its topic, whether nobody may miss it."""

    question: str
    topic: str
    critical: bool = False


class PlanError(ValueError):
    """The plan cannot be drawn from these questions; the text says what is wrong and how to mend it."""


def seed_of(secret: str, purpose: str) -> str:
    """Give the seed for one purpose (a question's numbers, the order of sheets) from a sitting's secret, as hex."""
    return hashlib.blake2b(purpose.encode(), key=bytes.fromhex(secret), digest_size=16).hexdigest()


def check_plan(
    *, questions: int, topics: Mapping[str, int], critical: Collection[str], among: Iterable[Candidate]
) -> None:
    """Stop at the first reason why no sitting could be drawn.

    Raises:
        PlanError: The counts do not add up to `questions`, a topic has too few questions, or a critical one is missing.
    """
    held = {candidate.question: candidate for candidate in among}
    total = sum(topics.values())
    if total != questions:
        raise PlanError(
            _("The topics add up to %(total)s questions and the plan asks for %(questions)s: make the two agree.")
            % {"total": total, "questions": questions}
        )
    for question in critical:
        if question not in held:
            raise PlanError(
                _("The critical question %(question)s is not in use in an exam: put it in use or take it off the plan.")
                % {"question": question}
            )
    musts = Counter(candidate.topic for candidate in held.values() if candidate.question in critical)
    have = Counter(candidate.topic for candidate in held.values())
    for topic in sorted(set(topics) | set(musts)):
        asked = topics.get(topic, 0)
        if have[topic] < asked:
            raise PlanError(
                _("The plan asks for %(asked)s questions on %(topic)s and %(have)s are in use: ask for fewer.")
                % {"asked": asked, "topic": topic, "have": have[topic]}
            )
        if musts[topic] > asked:
            raise PlanError(
                _("%(musts)s critical questions are on %(topic)s and the plan asks for %(asked)s there: ask for more.")
                % {"musts": musts[topic], "topic": topic, "asked": asked}
            )


def choose(
    *, topics: Mapping[str, int], critical: Collection[str], among: Iterable[Candidate], secret: str
) -> list[Candidate]:
    """Draw the sheets of a sitting, in their order.

    Each topic gives its count, the critical questions first. Raises PlanError where `check_plan` would.
    """
    pool = list(among)
    check_plan(questions=sum(topics.values()), topics=topics, critical=critical, among=pool)
    chosen: list[Candidate] = []
    for topic, count in topics.items():
        of_topic = [candidate for candidate in pool if candidate.topic == topic]
        of_topic.sort(key=lambda one: (one.question not in critical, seed_of(secret, f"draw {one.question}")))
        chosen.extend(of_topic[:count])
    return sorted(chosen, key=lambda one: seed_of(secret, f"place {one.question}"))
