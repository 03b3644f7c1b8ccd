"""How a work list is made.

events ─┬─ open_points    what to find out
├─ jobs           what to do, each job once, by `order`
├─ road_return    what goes back before the road
├─ provisions     what all that takes
└─ planning ──▶ rider.worklist.Worklist
"""
