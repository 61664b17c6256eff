"""Writes pint_units.tsv: unit conversions by Pint, an outside check of the engine's quantities.

Run with Pint 0.25: python3 pint_units.py
"""

import platform
from pathlib import Path

import pint

# dimension: (unit as the engine reads it, Pint's name for it)
UNITS = {
    "voltage": [("V", "volt"), ("mV", "millivolt"), ("kV", "kilovolt")],
    "current": [("A", "ampere"), ("mA", "milliampere"), ("uA", "microampere")],
    "power": [
        ("W", "watt"),
        ("kW", "kilowatt"),
        ("hp", "horsepower"),
        ("Btu/h", "Btu_it / hour"),
        ("kBtu/h", "kiloBtu_it / hour"),
        # Pint's refrigeration_ton is built on the ISO Btu; the trade's is 12 000 Btu (International Table) an hour.
        ("tons", "TON_IT"),
    ],
    "resistance": [("ohm", "ohm"), ("kohm", "kiloohm"), ("Mohm", "megaohm")],
    "pressure": [
        ("Pa", "pascal"),
        ("kPa", "kilopascal"),
        ("in wc", "inH2O"),
        ("mbar", "millibar"),
        ("psi", "psi"),
    ],
    "temperature": [("K", "kelvin"), ("C", "degC"), ("F", "degF")],
    "temperature-difference": [("K", "kelvin"), ("C", "delta_degC"), ("F", "delta_degF")],
    "length": [("m", "metre"), ("cm", "centimetre"), ("mm", "millimetre"), ("in", "inch"), ("ft", "foot")],
    "time": [("s", "second"), ("min", "minute"), ("h", "hour")],
    "rotational-speed": [("rad/s", "radian / second"), ("rpm", "rpm")],
    "airflow": [
        ("m3/s", "metre**3 / second"),
        ("cfm", "foot**3 / minute"),
        ("L/s", "litre / second"),
        ("m3/h", "metre**3 / hour"),
    ],
    "percent": [("pu", "dimensionless"), ("%", "percent")],
    "capacitance": [("farad", "farad"), ("uF", "microfarad")],
    "density": [("kg/m3", "kilogram / metre**3"), ("lb/ft3", "pound / foot**3")],
}

# One ordinary value for every pair, then further ones for chosen dimensions.
ORDINARY = {"voltage": 118.4, "power": 0.75, "temperature": 67, "pressure": 0.5}
FURTHER = {
    "voltage": [("V", "kV", 1e-7), ("kV", "V", 0.12), ("V", "mV", -24.5), ("V", "kV", 9.9e14)],
    "power": [("hp", "W", 1 / 3), ("Btu/h", "W", 64000), ("tons", "Btu/h", 3), ("kW", "Btu/h", 10), ("W", "hp", 1e-9)],
    "pressure": [("in wc", "Pa", -0.2), ("Pa", "in wc", 125), ("in wc", "Pa", 1e9), ("in wc", "psi", 1e-6)],
    "temperature": [
        ("F", "C", 70), ("F", "C", 32), ("F", "C", -40), ("F", "K", -459.67), ("C", "F", -273.15), ("F", "K", 0),
        ("K", "F", 0), ("C", "F", 100), ("F", "K", 1e-6), ("C", "F", 1e5), ("C", "F", 19), ("F", "C", 0.1),
    ],
    "temperature-difference": [("F", "K", 10), ("F", "C", -10), ("C", "F", 1e-9), ("K", "F", 1e6), ("F", "K", 35)],
    "length": [("in", "mm", 5.5), ("ft", "in", 50), ("in", "m", 1.5)],
    "airflow": [("cfm", "m3/s", 1), ("cfm", "L/s", 1200), ("m3/h", "cfm", 2040)],
    "rotational-speed": [("rpm", "rad/s", 1075), ("rpm", "rad/s", -1)],
    "capacitance": [("uF", "farad", 14.338)],
    "density": [("lb/ft3", "kg/m3", 0.075), ("kg/m3", "lb/ft3", 1.2)],
}


def main():
    registry = pint.UnitRegistry(autoconvert_offset_to_baseunit=False)
    registry.define("TON_IT = 12000 * Btu_it / hour")
    lines = [
        f"# Pint {pint.__version__}, Python {platform.python_version()}; written by pint_units.py.",
        "# dimension\tvalue\tfrom\tto\tby Pint",
    ]

    def add(dimension, value, start, end):
        names = dict(UNITS[dimension])
        result = registry.Quantity(float(value), names[start]).to(names[end]).magnitude
        lines.append(f"{dimension}\t{float(value)!r}\t{start}\t{end}\t{float(result)!r}")

    for dimension, units in UNITS.items():
        for start, _ in units:
            for end, _ in units:
                if start != end:
                    add(dimension, ORDINARY.get(dimension, 36.6), start, end)
        for start, end, value in FURTHER.get(dimension, []):
            add(dimension, value, start, end)
    Path(__file__).with_suffix(".tsv").write_text("\n".join(lines) + "\n", encoding="utf-8")


main()
