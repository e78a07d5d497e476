"""Compares every unit with pint, an independent library of units.

    units_pint.py UNITS.json [--least N]

UNITS.json: a list of {"name", "kind", "factor": "a/b", "zero": "a/b"}, where `value = number × factor +
zero` in the base unit of the kind. pint is made to count in fractions, so both sides are exact and are
compared with `==`; there is no tolerance.

Fails where a factor or a zero differs, where a unit is neither compared nor excused, where a deviation
that is stated below is gone, or where fewer than N units were compared.
"""

import argparse
import json
from fractions import Fraction

import pint

from say import Failures

# The base unit of each kind, in pint's words. Temperatures as points are compared apart.
BASE = {
    "length": "meter",
    "area": "meter ** 2",
    "volume": "meter ** 3",
    "mass": "kilogram",
    "time": "second",
    "calendar": "month",
    "angle": "turn",
    "force": "newton",
    "torque": "newton * meter",
    "energy": "joule",
    "power": "watt",
    "temperature-difference": "kelvin",
    "temperature": "kelvin",
    "pressure-difference": "pascal",
    "gauge-pressure": "pascal",
    "absolute-pressure": "pascal",
    "speed": "meter / second",
    "rotational-speed": "revolution / minute",
    "frequency": "hertz",
    "voltage": "volt",
    "current": "ampere",
    "resistance": "ohm",
    "capacitance": "farad",
    "mass-per-length": "kilogram / meter",
    "stiffness": "newton / meter",
    "density": "kilogram / meter ** 3",
    "flow": "meter ** 3 / second",
    "mass-flow": "kilogram / second",
    "fuel-per-distance": "liter / hundred_kilometer",
    "distance-per-fuel": "kilometer / liter",
    "kinematic-viscosity": "meter ** 2 / second",
    "dynamic-viscosity": "pascal * second",
    "ratio": "dimensionless",
}

# Our names in pint's words, where pint does not read them as they are or reads something else.
WORDS = {
    "µm": "micrometer", "cm": "centimeter", "km": "kilometer",
    "m²": "meter ** 2", "cm²": "centimeter ** 2", "mm²": "millimeter ** 2",
    "m³": "meter ** 3", "cm³": "centimeter ** 3", "mm³": "millimeter ** 3", "L": "liter", "mL": "milliliter",
    "t": "metric_ton", "d": "day", "h": "hour", "min": "minute", "s": "second", "ms": "millisecond",
    "months": "month", "years": "year",
    "turns": "turn", "°": "degree", "arcmin": "arcminute",
    "N·m": "newton * meter", "N·cm": "newton * centimeter", "N·mm": "newton * millimeter",
    "daN·m": "decanewton * meter", "kN·m": "kilonewton * meter", "daN": "decanewton",
    "kgf·m": "kilogram_force * meter", "kgf·cm": "kilogram_force * centimeter", "kgf": "kilogram_force",
    "lbf·ft": "pound_force * foot", "lbf·in": "pound_force * inch", "ozf·in": "ounce_force * inch",
    "lbf": "pound_force", "ozf": "ounce_force", "kip": "kip",
    "Wh": "watt_hour", "kWh": "kilowatt_hour", "ft·lbf": "foot * pound_force",
    "Btu": "international_british_thermal_unit",
    "hp": "horsepower", "PS": "metric_horsepower", "electric-hp": "electrical_horsepower",
    "N/mm²": "newton / millimeter ** 2", "kgf/cm²": "kilogram_force / centimeter ** 2",
    "Torr": "torr", "mmHg": "millimeter_Hg", "inHg": "inch_Hg", "inH2O": "inch_H2O",
    "mbar": "millibar", "ksi": "kip_per_square_inch", "atm": "atmosphere",
    "inch": "inch", "thou": "thou", "µinch": "microinch", "ft": "foot", "yd": "yard", "mile": "mile",
    "US-survey-ft": "survey_foot",
    "inch²": "inch ** 2", "ft²": "foot ** 2", "inch³": "inch ** 3", "ft³": "foot ** 3",
    "US-gal": "US_liquid_gallon", "US-qt": "US_liquid_quart", "US-pt": "US_pint", "US-fl-oz": "US_fluid_ounce",
    "imp-gal": "imperial_gallon", "imp-fl-oz": "imperial_fluid_ounce",
    "lb": "pound", "oz": "ounce", "US-ton": "short_ton", "slug": "slug",
    "m/s": "meter / second", "mm/s": "millimeter / second", "m/min": "meter / minute",
    "km/h": "kilometer / hour", "mph": "mile / hour", "ft/s": "foot / second", "ft/min": "foot / minute",
    "inch/s": "inch / second", "kn": "knot",
    "rpm": "revolution / minute", "r/s": "revolution / second",
    "Ω": "ohm", "mΩ": "milliohm", "kΩ": "kiloohm", "MΩ": "megaohm", "µF": "microfarad", "nF": "nanofarad",
    "kg/m": "kilogram / meter", "g/m": "gram / meter", "lb/ft": "pound / foot",
    "N/m": "newton / meter", "N/mm": "newton / millimeter", "lbf/in": "pound_force / inch",
    "kg/m³": "kilogram / meter ** 3", "g/cm³": "gram / centimeter ** 3", "lb/ft³": "pound / foot ** 3",
    "m³/s": "meter ** 3 / second", "m³/h": "meter ** 3 / hour", "L/min": "liter / minute",
    "L/h": "liter / hour", "US-gal/h": "US_liquid_gallon / hour",
    "kg/s": "kilogram / second", "kg/h": "kilogram / hour", "g/h": "gram / hour", "lb/h": "pound / hour",
    "L/100km": "liter / hundred_kilometer", "US-gal/100mile": "US_liquid_gallon / hundred_mile",
    "km/L": "kilometer / liter", "mile/US-gal": "mile / US_liquid_gallon",
    "US-gal/min": "US_liquid_gallon / minute", "ft³/min": "foot ** 3 / minute",
    "m²/s": "meter ** 2 / second", "mm²/s": "millimeter ** 2 / second",
    "Pa·s": "pascal * second", "mPa·s": "millipascal * second", "cSt": "centistokes", "cP": "centipoise",
    "parts": "dimensionless", "%": "percent", "‰": "permille",
}
DIFFERENCE = {"K": "kelvin", "°C": "delta_degree_Celsius", "°F": "delta_degree_Fahrenheit", "°R": "degree_Rankine"}
POINT = {"K": "kelvin", "°C": "degree_Celsius", "°F": "degree_Fahrenheit", "°R": "degree_Rankine"}

# Kinds that pint has no exact word for, with the reason.
EXCUSED = {
    "sound-level": "decibels are logarithmic in pint; ours is a meter's own figure and has one unit",
}

# Where pint says something else, on purpose: what we compare with instead, pint's other word, and why.
# Each is tried, so that this list cannot grow stale.
DEVIATIONS = [
    ("Btu", "joule", "Btu", Fraction("1055.056"),
     "pint's plain Btu is the rounded 1055.056 J; ours is the International Table one, 1055.05585262 J"),
    ("rpm", "hertz", "revolution / minute", None,
     "pint turns a revolution into 2π, so that 60 rpm is 6.28 Hz; ours is a kind of its own and is never a frequency"),
    ("barrel", "US_liquid_gallon", "barrel", Fraction("31.5"),
     "pint's barrel is 31.5 US gallons and its oil_barrel 42; we declare neither"),
]


def main():
    arguments = argparse.ArgumentParser(description="Compare units with pint.")
    arguments.add_argument("units", help="JSON list of name, kind, factor, zero")
    arguments.add_argument("--least", type=int, default=130, help="so many units must be compared")
    asked = arguments.parse_args()
    failures = Failures("units against pint " + pint.__version__)
    with open(asked.units, encoding="utf-8") as file:
        units = json.load(file)
    registry = pint.UnitRegistry(non_int_type=Fraction)
    # pint takes no number inside of a unit's words.
    registry.define("hundred_kilometer = 100 * kilometer")
    registry.define("hundred_mile = 100 * mile")
    compared = sum(compare(registry, unit, failures) for unit in units)
    for deviation in DEVIATIONS:
        still_deviates(registry, deviation, failures)
    if compared < asked.least:
        failures.add(f"only {compared} units were compared, at least {asked.least} are wanted")
    failures.leave(f"{compared} units agree exactly; {len(DEVIATIONS)} stated deviations stand")


def compare(registry, unit, failures):
    """Compares one unit; 1 where that could be done."""
    name, kind = unit["name"], unit["kind"]
    said = f"{name} ({kind})"
    if not name or kind in EXCUSED:
        return 0
    base = BASE.get(kind)
    if base is None:
        failures.add(f"{said}: nobody has said what pint calls the base unit of this kind")
        return 0
    words = {"temperature": POINT, "temperature-difference": DIFFERENCE}.get(kind, WORDS).get(name, name)
    zero, one = (moved(registry, number, words, base) for number in (0, 1))
    if zero is None or one is None:
        failures.add(f"{said}: pint does not know it as `{words}`, or not as a {kind}")
        return 0
    for what, ours, theirs in (("factor", unit["factor"], one - zero), ("zero", unit["zero"], zero)):
        if Fraction(ours) != theirs:
            failures.add(f"{said}: {what} is {ours} here and {theirs} in pint")
    return 1


def moved(registry, number, words, base):
    """A number of one unit in another, exactly; None where pint cannot do it."""
    try:
        return Fraction(registry.Quantity(Fraction(number), words).to(base).magnitude)
    # pint's own error cannot be printed where it counts in fractions, so its words are ours.
    except (pint.errors.PintError, TypeError, AttributeError):
        return None


def still_deviates(registry, deviation, failures):
    ours, base, words, wanted, why = deviation
    theirs = moved(registry, 1, words, base)
    if theirs is None:
        failures.add(f"{ours}: the deviation can no longer be tried ({why})")
    elif wanted is None and theirs == Fraction(1, 60) or wanted is not None and theirs != wanted:
        failures.add(f"{ours}: pint now says {theirs} {base}; take it off the deviations ({why})")


if __name__ == "__main__":
    main()
