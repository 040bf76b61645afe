"""A question's drawing under a specification: the inputs it has already, found once, and those that each case gives."""

from collections.abc import Mapping
from dataclasses import dataclass

from trainer.drawings import drawing_inputs, get_drawing
from trainer.questions.model import DrawingCall, Question
from trainer.questions.names import Names
from trainer.questions.quantities import alike
from trainer.rules import Dimension


@dataclass(frozen=True)
class PlannedDrawing:
    """A drawing's fixed inputs and the inputs that a case's scope gives."""

    key: str
    name: str
    fixed: Mapping[str, object]
    named: Mapping[str, str]

    def inputs(self, scope: Mapping[str, object]) -> dict[str, object]:
        """Give every input of a case's drawing."""
        return {**self.fixed, **{name: scope[source] for name, source in self.named.items()}}


def after_call(question: Question) -> DrawingCall | None:
    """Give the drawing that is shown with the verdict: a spot's is its own drawing again, with all that it can show."""
    call, after = question.drawing, question.after_drawing
    if question.kind != "spot" or call is None:
        return after
    own = {name: text for name, text in call.inputs.items() if name not in ("show", "ask")}
    return DrawingCall(call.name, own | ({"show": "all"} if after is None else dict(after.inputs)))


def plan_drawing(names: Names, key: str, call: DrawingCall) -> PlannedDrawing:
    """Find a drawing's inputs: those given, then names of the question, then the specification."""
    kind = get_drawing(call.name)
    fixed: dict[str, object] = {word: call.inputs[word] for word in ("show", "ask") if word in call.inputs}
    named: dict[str, str] = {}
    for entry in kind.inputs:
        if not isinstance(entry.kind, Dimension):
            if entry.name in call.inputs:
                fixed[entry.name] = call.inputs[entry.name]
        elif entry.name in call.inputs:
            name, value = names.operand(call.inputs[entry.name], entry.kind)
            if name is None:
                fixed[entry.name] = value
            else:
                named[entry.name] = name
        elif entry.name in names.own and alike(names.dimensions[entry.name], entry.kind):
            named[entry.name] = entry.name
    part = call.inputs.get("part") or names.question.part
    filled = drawing_inputs(call.name, {**fixed, **named}, names.specification, part)
    return PlannedDrawing(key, call.name, {name: filled[name] for name in filled if name not in named}, named)
