"""Writes monte_carlo.tsv: how sure computed values are, by drawing the inputs a million times.

An outside check of the engine's propagation by differences. The formulas are written anew here, in trade units, with
every input drawn evenly within its half-width (JCGM 101, supplement 1). Run: python3 monte_carlo.py
"""

import platform
from pathlib import Path

import numpy as np

DRAWS = 1_000_000
SEED = 20_240_611


def density_factor(feet, fahrenheit):
    return (1 - 6.8754e-6 * feet) ** 5.2559 * 529.67 / (fahrenheit + 459.67)


# formula: (work in trade units, unit of the result, [(unit, value, half-width)])
CASES = [
    (
        "sensible-airflow",
        lambda heat, rise, feet, back: heat / (1.08 * density_factor(feet, back) * rise),
        "cfm",
        [("Btu/h", 64000, 1500), ("F", 50, 2.8), ("ft", 600, 100), ("F", 70, 2)],
    ),
    (
        "air-density",
        lambda feet, fahrenheit: 144 * 14.696 / (53.35 * 529.67) * density_factor(feet, fahrenheit),
        "lb/ft3",
        [("ft", 5000, 200), ("F", 70, 5)],
    ),
    (
        "electric-heat-at-voltage",
        lambda power, rated, volts: 3412.141633 * power * (volts / rated) ** 2,
        "Btu/h",
        [("kW", 10, 0.5), ("V", 240, 0), ("V", 208, 2.4)],
    ),
    (
        "fan-law-power",
        lambda power, speed, new: power * (new / speed) ** 3,
        "hp",
        [("hp", 0.4, 0.02), ("rpm", 1000, 12), ("rpm", 1100, 12)],
    ),
    (
        "system-flow",
        lambda flow, pressure, new: flow * np.sqrt(new / pressure),
        "cfm",
        [("cfm", 1200, 60), ("in wc", 0.5, 0.02), ("in wc", 0.8, 0.02)],
    ),
    (
        "expected-current",
        lambda power, volts, efficiency, factor: 745.6998716 * power / (volts * efficiency / 100 * factor / 100),
        "A",
        [("hp", 0.5, 0.02), ("V", 118, 1.5), ("%", 75, 3), ("%", 60, 3)],
    ),
    (
        "run-capacitor",
        lambda volts, amps, hertz: 1e6 * amps / (2 * np.pi * hertz * volts),
        "uF",
        [("V", 370, 4), ("A", 2, 0.05), ("Hz", 60, 0.1)],
    ),
    (
        "line-drop-solid",
        lambda gauge, feet, amps: 2 * feet / 1000 * 3.07 * amps,
        "V",
        [("", 14, 0), ("ft", 50, 5), ("A", 9.8, 0.2)],
    ),
]


def main():
    draw = np.random.default_rng(SEED)
    lines = [
        f"# numpy {np.__version__}, Python {platform.python_version()}, {DRAWS} draws, seed {SEED}; written by"
        " monte_carlo.py.",
        "# Every input is given as its value, its half-width and its unit.",
        "# formula\tinputs\tunit of the result\tmean\tstandard deviation\t2.5 %\t97.5 %",
    ]
    for name, work, unit, inputs in CASES:
        drawn = [draw.uniform(value - half, value + half, DRAWS) if half else value for _, value, half in inputs]
        result = work(*drawn)
        low, high = np.quantile(result, [0.025, 0.975])
        given = "; ".join(f"{value} {half} {unit_of}".strip() for unit_of, value, half in inputs)
        numbers = "\t".join(f"{one:.8g}" for one in [result.mean(), result.std(ddof=1), low, high])
        lines.append(f"{name}\t{given}\t{unit}\t{numbers}")
    Path(__file__).with_suffix(".tsv").write_text("\n".join(lines) + "\n", encoding="utf-8")


main()
