"""What a drawn case says and shows, each put into words or drawn when it is first read."""

from collections.abc import Mapping
from functools import cached_property

from trainer.drawings import Drawing, draw
from trainer.questions.case import Steps
from trainer.questions.model import BothLanguages, Language
from trainer.questions.planned_drawing import PlannedDrawing
from trainer.questions.planned_target import planted_inputs
from trainer.questions.planting import failing
from trainer.questions.speaking import Speaker
from trainer.questions.told import Told


class SpokenWords:
    """The words of a case, by its speaker.

    They are kept here and not by the speaker, which they ask: a case whose words held one another would outlive its
    last reader, drawings and all, until the collector came by.
    """

    def __init__(self, speaker: Speaker) -> None:
        self._speaker = speaker

    @cached_property
    def stem(self) -> BothLanguages:
        """The question."""
        return self._speaker.said(("stem",))

    @cached_property
    def after(self) -> BothLanguages:
        """What to take along; empty where there is nothing."""
        return self._speaker.after()

    @cached_property
    def steps(self) -> Mapping[Language, Steps]:
        """The values that the answer rests on, each worked out, then the answer."""
        return Told(self._speaker.steps)

    @cached_property
    def drawing(self) -> Mapping[Language, Drawing] | None:
        """The drawing that stands with the question."""
        return self._drawn(self._speaker.plan.drawing, "q", [])

    @cached_property
    def after_drawing(self) -> Mapping[Language, Drawing] | None:
        """The drawing that stands with the verdict, a ring around what is at fault."""
        plan, draft = self._speaker.plan, self._speaker.draft
        return self._drawn(plan.after_drawing, "a", [target.part for target in failing(plan, draft)])

    def _drawn(self, drawing: PlannedDrawing | None, key: str, ring: list[str]) -> Mapping[Language, Drawing] | None:
        if drawing is None:
            return None
        plan, draft, units = self._speaker.plan, self._speaker.draft, self._speaker.units
        planted = planted_inputs(plan.targets, draft.fault, draft.readings, draft.scope)
        inputs = drawing.inputs(draft.scope) | planted
        return Told(lambda language: draw(drawing.name, inputs, units=units, language=language, key=key, ring=ring))
