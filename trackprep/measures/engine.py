"""The engine: its displacement, the mean speed of its pistons, what the belly pan must hold."""

from fractions import Fraction

from trackprep.measures.bench import Bench, plain
from trackprep.measures.figures import both_ways
from trackprep.measures.inputs import Input, Quantity
from trackprep.measures.topic import Topic
from trackprep.rules.values import Amount
from trackprep.units import SPELLINGS, show


def _swept_volume(bench: Bench) -> None:
    cylinders = bench.amount("cylinders") if bench.has("cylinders") else plain(1)
    bench.given.append(("bore", both_ways(bench.amount("bore"))))
    bench.given.append(("stroke", both_ways(bench.amount("stroke"))))
    bench.given.append(("cylinders", show(cylinders.value, cylinders.unit)))
    bench.answer(
        "displacement",
        bench.work(
            "swept-volume",
            bore=bench.amount("bore"), stroke=bench.amount("stroke"), cylinders=cylinders,
        ),
    )  # fmt: skip


SWEPT_VOLUME = Topic(
    "swept-volume",
    "Displacement from bore and stroke",
    "an engine's displacement from its bore and stroke",
    _swept_volume,
    options=(
        Input("bore", "the diameter of a cylinder", "67mm", Quantity("mm"), "needed"),
        Input("stroke", "the way of a piston", "42.5mm", Quantity("mm"), "needed"),
        Input("cylinders", "how many cylinders; else one", "4",
              Quantity("", Fraction(1), whole=True)),
    ),
    examples=("swept-volume --bore 67mm --stroke 42.5mm --cylinders 4",),
)  # fmt: skip


def _piston_speed(bench: Bench) -> None:
    stroke, speed = bench.amount("stroke"), bench.amount("speed")
    bench.given.append(("stroke", both_ways(stroke)))
    bench.given.append(("engine speed", both_ways(speed)))
    bench.answer("mean piston speed", bench.work("mean-piston-speed", stroke=stroke, speed=speed))


PISTON_SPEED = Topic(
    "piston-speed",
    "Mean piston speed",
    "the mean speed of the pistons at an engine speed",
    _piston_speed,
    options=(
        Input("stroke", "the way of a piston", "66mm", Quantity("mm"), "needed"),
        Input("speed", "the engine speed", "5000rpm", Quantity("rpm"), "needed"),
    ),
    examples=("piston-speed --stroke 66mm --speed 5000rpm",),
)


def _belly_pan(bench: Bench) -> None:
    oil = bench.amount("oil")
    coolant = bench.inputs.get("coolant", Amount(Fraction(0), SPELLINGS["L"]))
    assert isinstance(coolant, Amount)
    bench.given.append(("oil", both_ways(oil)))
    bench.given.append(("coolant", both_ways(coolant)))
    bench.answer(
        "the pan must hold", bench.work("belly-pan-needed", oil=oil, coolant=coolant), rounded=False
    )
    bench.say("Count what the pan holds below its lowest hole, with the machine upright.")
    bench.caution("Keep the pan clear of the exhaust, and dry: oil in it is the next rider's fall.")


BELLY_PAN = Topic(
    "belly-pan",
    "What the belly pan (belly tray) must hold",
    "what a belly pan must hold of oil and coolant",
    _belly_pan,
    options=(
        Input("oil", "all the engine oil, by the machine's manual", "3.6L", Quantity("L"),
              "needed"),
        Input("coolant", "all the coolant; none where the air cools", "2.1L", Quantity("L")),
    ),
    examples=("belly-pan --oil 3.6L --coolant 2.1L", 'belly-pan --oil "3.8 qt"'),
)  # fmt: skip
