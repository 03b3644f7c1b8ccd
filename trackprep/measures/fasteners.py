"""Torques: of a bolt of which no figure is known, and a figure in every unit."""

from trackprep.measures.bench import Bench
from trackprep.measures.inputs import ChoiceOf, Input, InputError, Text, quantity_in, read
from trackprep.measures.topic import Topic
from trackprep.measures.units import conversions
from trackprep.rules.values import Amount
from trackprep.units.dimensions import TORQUE as TORQUES

_MANUAL = (
    "The figure in the machine's manual always wins. What stands here is a general figure for a"
    " steel bolt in steel: a fallback where no figure is known, and none for brakes, axles,"
    " steering, drain plugs or threads in aluminium."
)
_THREAD = Input("bolt", "the thread, or a torque to be converted", "M8",
                ChoiceOf("nominal-diameter"), "needed")  # fmt: skip


def _torque(bench: Bench) -> None:
    bench.caution(_MANUAL)
    text = bench.word("bolt")
    quantity = quantity_in(text)
    if quantity is None:
        _of_bolt(bench, text)
        return
    if quantity.unit.dimension != TORQUES:
        raise InputError(
            f"BOLT: `{text}` is {quantity.unit.dimension.words}, not a torque",
            "a thread such as `M8`, or a torque such as `22 N*m`",
        )
    conversions(bench, quantity)


def _of_bolt(bench: Bench, text: str) -> None:
    thread = read(_THREAD, text, "BOLT", bench.rules)
    assert isinstance(thread, str)
    if not bench.has("class"):
        raise InputError(
            "--class is missing: the figure on the bolt's head tells how strong it is",
            "`--class 8.8`; without a figure on the head there is no answer",
        )
    strength = bench.word("class")
    bench.given.append(("thread", _spoken(bench, "nominal-diameter", thread)))
    bench.given.append(("property class", _spoken(bench, "proof-stress", strength)))
    diameter = _found(bench, "nominal-diameter", thread)
    force = bench.work(
        "preload",
        proof=_found(bench, "proof-stress", strength),
        area=_found(bench, "stress-area", thread),
    )
    bench.answer("pull in the bolt", force)
    states = bench.table("nut-factor").choices
    assert states is not None
    for state in (bench.word("thread"),) if bench.has("thread") else states.words:
        factor = bench.look_up("nut-factor", state)
        if factor is not None:
            torque = bench.work("torque", factor=factor, force=force, diameter=diameter)
            bench.answer(_spoken(bench, "nut-factor", state).lower(), torque)
    bench.say(bench.table("nut-factor").reason)


def _found(bench: Bench, table: str, key: str) -> Amount:
    found = bench.look_up(table, key)
    if found is None:
        raise InputError(f"the table `{table}` has no row for {key}")
    return found


def _spoken(bench: Bench, table: str, key: str) -> str:
    choices = bench.table(table).choices
    return choices.spoken(key) if choices else key


TORQUE = Topic(
    "torque",
    "Torque of a bolt",
    "a general torque by thread and class, or a torque in every unit",
    _torque,
    Input("bolt", "the thread, or a torque to be converted", "M8", Text(), "needed"),
    (
        Input("class", "the property class, stamped on the bolt's head", "8.8",
              ChoiceOf("proof-stress")),
        Input("thread", "how the thread is: dry, zinc, oiled, cadmium or anti-seize; else each",
              "dry", ChoiceOf("nut-factor")),
    ),
    ("torque M8 --class 8.8 --thread dry", 'torque "22 N*m"', "torque 80lbf*ft"),
    about=_MANUAL,
)  # fmt: skip
