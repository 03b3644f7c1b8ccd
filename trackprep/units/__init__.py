"""Units and exact quantities: reading them, converting them, printing them.

    text ──read_quantity──▶ value, Unit ──to_base──▶ exact value in base units ──show──▶ text

The allow-list (`table`) holds what the trade writes, with exact factors; `dimensions`
names what each measures, `reading` takes text apart, `quantities` converts, `printing`
writes, `suggestions` guesses what a wrong word meant, and `exchange` alone knows Pint.
"""

from trackprep.units.dimensions import NUMBER, Dimension
from trackprep.units.exchange import from_pint, to_pint
from trackprep.units.printing import show, show_apart, written
from trackprep.units.quantities import (
    difference_to_base,
    from_base,
    from_base_difference,
    to_base,
)
from trackprep.units.reading import MOST_DIGITS, read_number, read_quantity
from trackprep.units.suggestions import nearest_unit
from trackprep.units.table import ONE, SPELLINGS, Unit, unit, unit_end

__all__ = [
    "MOST_DIGITS",
    "NUMBER",
    "ONE",
    "SPELLINGS",
    "Dimension",
    "Unit",
    "difference_to_base",
    "from_base",
    "from_base_difference",
    "from_pint",
    "nearest_unit",
    "read_number",
    "read_quantity",
    "show",
    "show_apart",
    "to_base",
    "to_pint",
    "unit",
    "unit_end",
    "written",
]
