"""Sound: at which engine speed it is measured, and what counts of a reading."""

from trackprep.backends.terms import named
from trackprep.measures.bench import Bench
from trackprep.measures.figures import both_ways
from trackprep.measures.inputs import ChoiceOf, Given, Input, InputError, Quantity
from trackprep.measures.topic import Topic, one_of
from trackprep.rules.conditions import Arithmetic, Term
from trackprep.rules.model import Formula
from trackprep.rules.values import Amount, Value
from trackprep.units import show

_CARE = (
    "Wear ear protection, stand clear of the outlet; outside, in neutral, somebody on the machine."
)

# ---- engine speed -----------------------------------------------------------


def _sound_speed(bench: Bench) -> None:
    bench.caution(_CARE)
    match one_of(bench, "stroke", "rated", "displacement"):
        case "stroke":
            found = _by_stroke(bench)
        case "rated":
            rated = bench.amount("rated")
            bench.given.append(("speed of greatest power", both_ways(rated)))
            found = bench.work("rated-test-speed", rated=rated)
        case _:
            displacement = bench.amount("displacement")
            bench.given.append(("displacement", both_ways(displacement)))
            found = bench.work("ama-test-speed", displacement=displacement)
    bench.answer("test at", found)
    bench.say("Your event's rules say which of the ways counts, and how the meter stands.")


def _by_stroke(bench: Bench) -> Amount:
    stroke = bench.amount("stroke")
    bench.given.append(("stroke", both_ways(stroke)))
    if not bench.has("mean"):
        return bench.work("circuit-test-speed", stroke=stroke)
    mean = bench.amount("mean")
    bench.given.append(("mean piston speed", both_ways(mean)))
    return bench.work("piston-test-speed", stroke=stroke, mean=mean)


SOUND_SPEED = Topic(
    "sound-speed",
    "Engine speed of a sound test",
    "the engine speed of a sound test, by stroke, rated speed or displacement",
    _sound_speed,
    options=(
        Input("stroke", "the way of a piston: the federations' test by mean piston speed", "66mm",
              Quantity("mm")),
        Input("mean", "the mean piston speed of your rules; else that of the table", "13m/s",
              Quantity("m/s")),
        Input("rated", "the speed of greatest power: the stationary test of the road", "13500rpm",
              Quantity("rpm")),
        Input("displacement", "the displacement: the fixed speeds of the AMA", "600cc",
              Quantity("cc")),
    ),
    examples=(
        "sound-speed --stroke 66mm",
        "sound-speed --stroke 54mm --mean 13m/s",
        "sound-speed --rated 13500rpm",
        "sound-speed --displacement 600cc",
    ),
)  # fmt: skip

# ---- what counts ------------------------------------------------------------


def _sound(bench: Bench) -> None:
    bench.caution(_CARE)
    level = bench.amount("level")
    bench.given.append(("reading", show(level.value, level.unit)))
    level = _without_background(bench, level)
    counted = _counted(bench, level)
    bench.answer("level that counts", counted)
    bench.against("sound-limit", counted)
    _elsewhere(bench, level)


def _without_background(bench: Bench, level: Amount) -> Amount:
    if not bench.has("background"):
        return level
    background = bench.amount("background")
    bench.given.append(("background", show(background.value, background.unit)))
    taken = bench.work("background-correction", reading=level, background=background)
    left = Amount(level.value - taken.value, level.unit)
    bench.answer("without the background", left)
    return left


def _counted(bench: Bench, level: Amount) -> Amount:
    """What counts of a level by the vocabulary, without the allowances that were not asked for."""
    fact = bench.rules.derived["sound.counted"]
    values: dict[str, Value] = {"sound.level": level}
    for name, said in (("meter", "meter"), ("air", "air")):
        if not bench.has(name):
            bench.say(f"No allowance for the {said} is taken off, as --{name} is not given.")
            continue
        given = values[f"sound.{name}"] = bench.inputs[name]
        bench.given.append((said, _spoken(bench, given)))
    assert isinstance(fact.definition, Term)
    definition = known_part(fact.definition, frozenset(values))
    formula = Formula(fact.path, fact.label, (), definition, level.unit, source=fact.source)
    return bench.work_with(formula, values)


def _spoken(bench: Bench, given: Given) -> str:
    classes = bench.table("meter-allowance").choices
    if isinstance(given, str):
        return classes.spoken(given) if classes else given
    return both_ways(given)


def known_part(term: Term, paths: frozenset[str]) -> Term:
    """A sum without the parts at its end that hang on other facts than these."""
    while isinstance(term, Arithmetic) and not set(named(term.right)) <= paths:
        term = term.left
    if isinstance(term, Arithmetic):
        return Arithmetic(term.operator, known_part(term.left, paths), term.right)
    return term


def _elsewhere(bench: Bench, level: Amount) -> None:
    if not bench.has("distance") and not bench.has("at"):
        return
    if not bench.has("distance", "at"):
        raise InputError(
            "--distance and --at belong together: where it was measured, and where it is wanted",
            "`--distance 0.5m --at 7.5m`",
        )
    here, there = bench.amount("distance"), bench.amount("at")
    bench.given.append(("measured at", both_ways(here)))
    bench.given.append(("wanted at", both_ways(there)))
    found = bench.work("level-at", level=level, measured_at=here, wanted_at=there)
    bench.answer(f"in the open, at {show(there.value, there.unit)}", found)


SOUND = Topic(
    "sound",
    "Sound level that counts",
    "what counts of a sound reading: rounding, allowances, background, distance",
    _sound,
    Input("level", "what the meter showed", "102.9dB", Quantity("dB", low=None), "needed"),
    (
        Input("meter", "the class of the sound meter, 1 or 2", "1", ChoiceOf("meter-allowance")),
        Input("air", "the temperature of the air", "8C", Quantity("°C")),
        Input("background", "what the meter showed with the engine off", "91dB",
              Quantity("dB", low=None)),
        Input("distance", "how far from the outlet it was measured", "0.5m", Quantity("m")),
        Input("at", "another distance, to know the level there in the open", "7.5m",
              Quantity("m")),
    ),
    (
        "sound 102.9dB --meter 1 --air 8C",
        "sound 98dB --background 90dB",
        "sound 98dB --distance 0.5m --at 7.5m",
    ),
    about="An allowance is taken off only where what it hangs on is given.",
)  # fmt: skip
