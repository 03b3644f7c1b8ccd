"""The trade's numbers, each on its own, with the working: `trackprep measure`.

    Topic ──reads its Inputs──▶ Bench ──formulas and tables of a ruleset──▶ Measurement

No figure stands here: the formulas, tables and limits are those of rule files. A topic says
what is asked for, which formulas are worked out, and what to say of the results.
"""

from collections.abc import Mapping

from trackprep.measures.brakes import BRAKE_FLUID
from trackprep.measures.chain import CHAIN
from trackprep.measures.engine import BELLY_PAN, PISTON_SPEED, SWEPT_VOLUME
from trackprep.measures.fasteners import TORQUE
from trackprep.measures.helmets import HELMET
from trackprep.measures.inputs import InputError
from trackprep.measures.measurement import Measurement, Result
from trackprep.measures.sound import SOUND, SOUND_SPEED
from trackprep.measures.topic import Topic
from trackprep.measures.tyres import LOAD_INDEX, PRESSURE, SPEED_SYMBOL, TREAD, TYRE_CODE
from trackprep.measures.units import UNITS

TOPICS: Mapping[str, Topic] = {
    topic.name: topic
    for topic in (
        TYRE_CODE,
        TREAD,
        PRESSURE,
        SPEED_SYMBOL,
        LOAD_INDEX,
        CHAIN,
        SOUND_SPEED,
        SOUND,
        BRAKE_FLUID,
        TORQUE,
        HELMET,
        BELLY_PAN,
        SWEPT_VOLUME,
        PISTON_SPEED,
        UNITS,
    )
}
"""Every topic by its name, in the order in which they are listed."""

__all__ = ["TOPICS", "InputError", "Measurement", "Result", "Topic"]
