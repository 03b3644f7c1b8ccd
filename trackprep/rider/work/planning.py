"""From what was declared and answered to the work list."""

from collections.abc import Sequence
from datetime import date

from trackprep.rider.work.events import Event
from trackprep.rider.work.jobs import drafts, finished
from trackprep.rider.work.open_points import only_the_inspector, open_points
from trackprep.rider.work.provisions import packing, to_borrow, to_buy
from trackprep.rider.work.road_return import registered, road_return
from trackprep.rider.worklist import Arrival, Occasion, Worklist


def planned(events: Sequence[Event], arrival: Arrival | None, today: date) -> Worklist:
    """The work list for one declaration at events of one day.

    Args:
        arrival: How the machine comes; if None it is ridden where it is declared to be
            registered for the road, and else carried.
        today: The day from which it is told whether there is still time to order.
    """
    if arrival is None:
        arrival = "ridden" if registered(events) else "carried"
    made = drafts(events, arrival)
    road = road_return(events, made, arrival)
    steps = (*road.leaving, *road.later)
    day = events[0].situation.event
    return Worklist(
        tuple(Occasion(event.rules.name, event.rules.title) for event in events),
        day,
        arrival,
        open_points(events),
        finished(made),
        only_the_inspector(events),
        to_buy(made, steps, day, today),
        to_borrow(made, steps),
        packing(events, made, road.leaving),
        road,
    )
