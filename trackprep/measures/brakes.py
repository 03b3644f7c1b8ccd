"""Brake fluid: at which temperature it boils, new and wet."""

from trackprep.measures.bench import Bench
from trackprep.measures.inputs import ChoiceOf, Input
from trackprep.measures.topic import Topic


def _brake_fluid(bench: Bench) -> None:
    bench.caution(
        "Do not ride after work on the brakes until the lever is firm. Fluid strips paint and is"
        " poison."
    )
    grade = bench.word("grade")
    choices = bench.table("dry-boiling-point").choices
    assert choices is not None
    bench.given.append(("grade", choices.spoken(grade)))
    dry = bench.look_up("dry-boiling-point", grade)
    wet = bench.look_up("wet-boiling-point", grade)
    if dry is not None:
        bench.answer("boils at, new (dry)", dry, rounded=False)
    if wet is not None:
        bench.answer("boils at, wet", wet, rounded=False)
    if dry is None and wet is None:
        bench.say(f"The standard says nothing of “{choices.spoken(grade)}”.")
        return
    bench.say("These are the least that the grade allows; the container tells its own.")
    for table in ("dry-boiling-point", "wet-boiling-point"):
        bench.say(bench.table(table).reason)


BRAKE_FLUID = Topic(
    "brake-fluid",
    "Boiling points of brake fluid",
    "the least boiling points of a grade of brake fluid",
    _brake_fluid,
    Input("grade", "the grade on the cap of the reservoir", '"DOT 4"',
          ChoiceOf("dry-boiling-point"), "needed"),
    examples=('brake-fluid "DOT 5.1"', "brake-fluid 4"),
)  # fmt: skip
