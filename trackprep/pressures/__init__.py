"""The tyre pressures of a track day: the makers' figures, the readings, and what to do about them.

    figures as typed ──now──▶ what they equal in the cold paddock, with the working
    the rider's log ──log──▶ Day ──advice──▶ what to add or bleed ──day──▶ a page, a picture, JSON

No figure of the trade stands here: what is worked out is worked out by formulas of rule files,
and what is decided is decided by figures that the rider typed.
"""
