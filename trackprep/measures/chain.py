"""The chain: its pitch, and how far it has stretched."""

from fractions import Fraction

from trackprep.measures.bench import Bench
from trackprep.measures.figures import both_ways
from trackprep.measures.inputs import ChoiceOf, Input, InputError, Quantity
from trackprep.measures.topic import Topic
from trackprep.rules.values import Amount
from trackprep.units import show


def _chain(bench: Bench) -> None:
    bench.caution("Engine off and in neutral; keep fingers away from where chain meets sprocket.")
    size = bench.word("size")
    bench.given.append(("chain size", size))
    pitch = bench.look_up("pitch-of", size)
    if pitch is None:
        raise InputError(
            f"SIZE: no pitch is known here for {size}", "ask the chain's maker for its pitch"
        )
    bench.answer("pitch", pitch, rounded=False)
    if bench.has("links"):
        links = bench.amount("links")
        bench.given.append(("links measured", f"{show(links.value, links.unit)}, from pin to pin"))
        bench.answer(
            "length when new", Amount(pitch.value * links.value, pitch.unit), rounded=False
        )
        _elongation(bench, pitch, links)
    elif bench.has("length"):
        raise InputError("--links is missing: how many links the length spans", "`--links 20`")


def _elongation(bench: Bench, pitch: Amount, links: Amount) -> None:
    if not bench.has("length"):
        return
    length = bench.amount("length")
    bench.given.append(("length measured", both_ways(length)))
    found = bench.work("elongation", length=length, pitch=pitch, pitches=links)
    bench.answer("elongation", found)
    if found.value < 0:
        bench.say("That is shorter than new: count the links again, and not the pins.")
        return
    if not bench.has("teeth"):
        bench.against("chain-stretch", found)
        return
    teeth = bench.amount("teeth")
    bench.given.append(("teeth of the larger sprocket", show(teeth.value, teeth.unit)))
    limit = bench.work("wear-limit", teeth=teeth)
    bench.answer("worn out at", limit, rounded=False)
    gone = "worn out" if found.value > limit.value else "not worn out by this figure"
    bench.say(f"The chain is {gone}; also look for stiff links and hooked teeth.")


CHAIN = Topic(
    "chain",
    "Chain pitch and wear",
    "a chain's pitch by its size, and how far it has stretched",
    _chain,
    Input("size", "the size that is stamped on the links", "520", ChoiceOf("pitch-of"), "needed"),
    (
        Input("length", "the piece of chain that was measured, pulled tight, from pin to pin",
              "321mm", Quantity("mm")),
        Input("links", "how many links that piece has: one fewer than the pins", "20",
              Quantity("", Fraction(1), whole=True)),
        Input("teeth", "the teeth of the larger sprocket, for the limit of wear", "45",
              Quantity("", Fraction(1), whole=True)),
    ),
    ("chain 520", "chain 520 --length 321mm --links 20 --teeth 45"),
    about="Measure from the middle of one pin to the middle of another. 20 links are 21 pins.",
)  # fmt: skip
