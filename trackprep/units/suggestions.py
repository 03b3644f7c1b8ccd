"""The unit that somebody meant by a word that is none."""

from functools import cache

from trackprep.units.table import SPELLINGS, normal_spelling

_WORDS = {
    "mm": "millimetre millimeter millimetres millimeters mms",
    "cm": "centimetre centimeter centimetres centimeters cms",
    "m": "metre meter metres meters mtr mtrs",
    "km": "kilometre kilometer kilometres kilometers kms",
    "um": "micron microns micrometre micrometer",
    "in": "\" '' ” ″ ins",
    "ft": "' ’ ′",
    "yd": "yds yard yards",
    "32nds": "nds 32s 32th 32ths thirtyseconds /32",
    "thou": "thous",
    "kg": "kgs kilo kilos kilogram kilograms kilogramme kilogrammes",
    "g": "gr gram grams gramme grammes gm gms",
    "lb": "pound pounds lbm",
    "oz": "ounce ounces ozs",
    "mL": "mls millilitre milliliter millilitres milliliters",
    "L": "ltr ltrs litre liter litres liters",
    "cc": "ccm ccs",
    "fl oz": "fluidounce fluidounces flozs",
    "qt": "quart quarts qts",
    "gal": "gallon gallons gals",
    "s": "sec secs",
    "min": "mins",
    "h": "hr hrs",
    "days": "dys",
    "weeks": "wk wks",
    "months": "mo mos mth mths mnths",
    "years": "y yr yrs",
    "km/h": "kmh kmph km/hr kmhr kilometresperhour kilometersperhour",
    "mph": "mi/h m/h milesperhour",
    "m/s": "metrespersecond meterspersecond mps",
    "rpm": "rev revs revolutions upm",
    "N": "newton newtons",
    "kN": "kilonewton kilonewtons",
    "N*m": "newtonmetre newtonmeter newtonmetres newtonmeters nms",
    "lbf*ft": "lbft lbsft ftlb ftlbs lb/ft ft/lb lbf/ft ft/lbf lbfft ftlbf poundfoot poundfeet "
    "footpound footpounds poundsfeet",
    "lbf*in": "lbin lbsin inlb inlbs lbfin inlbf poundinch inchpound inchpounds poundinches",
    "kgf*m": "kgm kgfm mkg",
    "kgf*cm": "kgcm kgfcm",
    "psi": "psig lb/in^2 lbs/in^2 lb/in2 lbs/in2 lb/in² lbs/in² poundspersquareinch",
    "kPa": "kilopascal kilopascals",
    "bar": "bars",
    "hPa": "hectopascal hectopascals",
    "mbar": "millibar millibars",
    "kgf/cm^2": "kg/cm^2 kg/cm2 kg/cm²",
    "lbf/in": "lb/in lbs/in",
    "kgf/mm": "kg/mm",
    "°C": "c celsius centigrade degreesc degreescelsius degreecelsius",
    "°F": "f fahrenheit degreesf degreesfahrenheit degreefahrenheit",
    "K": "kelvin kelvins °k degk",
    "deg": "degree degrees degs",
    "dB": "dbs decibel decibels",
    "kW": "kilowatt kilowatts kws",
    "W": "watt watts",
    "hp": "horsepower bhp whp",
    "PS": "cv",
    "V": "volt volts",
    "%": "percent pct percentage",
}


_NO_GUESS = frozenset({"mil", "mils", "db(c)"})
"""What is near a unit and is not it: a mil is a thousandth of an inch to some and a
millimetre to others, and a sound level weighted by C is not one weighted by A."""


def other_words(unit_name: str) -> tuple[str, ...]:
    """What people write for the unit so named that is none of its spellings: `kilo` for `kg`."""
    return tuple(_WORDS.get("deg" if unit_name == "°" else unit_name, "").split())


def nearest_unit(text: str) -> str | None:
    """The spelling that somebody most likely meant: `years` for `yrs`, `mm` for `MM`.

    None where nothing is near; never a unit for the sake of an answer.
    """
    wanted = _squeezed(text)
    meanings = _meanings()
    if wanted in meanings:
        return meanings[wanted]
    if len(wanted) < 4 or wanted in _NO_GUESS:
        return None
    # A millisecond that a command without a wrong unit need not pay.
    from difflib import get_close_matches

    near = get_close_matches(wanted, meanings, n=1, cutoff=0.75)
    return meanings[near[0]] if near else None


@cache
def _meanings() -> dict[str, str]:
    """Squeezed spellings and words, each with the spelling to write; the first one holds."""
    meanings: dict[str, str] = {}
    for spelling, unit in SPELLINGS.items():
        # The degree sign is on few keyboards.
        meanings.setdefault(_squeezed(spelling), "deg" if unit.name == "°" else unit.name)
    for unit_name, words in _WORDS.items():
        for word in words.split():
            meanings.setdefault(_squeezed(word), unit_name)
    return meanings


def _squeezed(text: str) -> str:
    """The text without capitals, raised dots, hyphens, spaces and full stops."""
    normal = normal_spelling(text).casefold().rstrip(".")
    return "".join(sign for sign in normal if sign not in "*-_ .") or normal
