"""Writes air.tsv: air by PsychroLib, CoolProp and fluids, an outside check of the engine's air formulas.

Elevation by temperature by relative humidity; all in inch-pound units. Run: python3 air.py
"""

import platform
from importlib.metadata import version
from pathlib import Path

import psychrolib
from CoolProp.CoolProp import HAPropsSI, PropsSI
from fluids import ATMOSPHERE_1976

FOOT = 0.3048
POUND = 0.45359237
BTU = 1055.05585262
PSI = 6894.757293168361

ELEVATIONS = [0, 600, 1000, 2000, 5000, 7500]
TEMPERATURES = [40, 55, 70, 90, 120]
HUMIDITIES = [0.0, 0.2, 0.5, 0.8]


def main():
    psychrolib.SetUnitSystem(psychrolib.IP)
    versions = ", ".join(f"{name} {version(name)}" for name in ["PsychroLib", "CoolProp", "fluids"])
    lines = [
        f"# {versions}, Python {platform.python_version()}; written by air.py.",
        "# Pressures in psi, densities in lb/ft3. `factor`: heat that damp air takes, Btu/h for a CFM and a degree F, by",
        "# CoolProp, at the pressure of PsychroLib. Density of damp air: dry air and its water together.",
        "# ft\tdegF\trelative humidity\tpressure PsychroLib\tpressure fluids\tdry PsychroLib\tdry CoolProp"
        "\tdamp PsychroLib\tdamp CoolProp\tfactor",
    ]
    for feet in ELEVATIONS:
        pressure = psychrolib.GetStandardAtmPressure(feet)
        pascals = pressure * PSI
        by_fluids = ATMOSPHERE_1976(feet * FOOT).P / PSI
        for fahrenheit in TEMPERATURES:
            kelvin = (fahrenheit + 459.67) * 5 / 9
            dry = psychrolib.GetDryAirDensity(fahrenheit, pressure)
            dry_real = PropsSI("D", "T", kelvin, "P", pascals, "Air") * FOOT**3 / POUND
            for humidity in HUMIDITIES:
                ratio = psychrolib.GetHumRatioFromRelHum(fahrenheit, humidity, pressure)
                damp = psychrolib.GetMoistAirDensity(fahrenheit, ratio, pressure)
                state = ("T", kelvin, "P", pascals, "R", humidity)
                damp_real = FOOT**3 / POUND / HAPropsSI("Vha", *state)
                factor = HAPropsSI("C", *state) / HAPropsSI("Vda", *state) * FOOT**3 * (5 / 9) / BTU * 60
                values = [pressure, by_fluids, dry, dry_real, damp, damp_real, factor]
                lines.append("\t".join([str(feet), str(fahrenheit), str(humidity)] + [f"{one:.7g}" for one in values]))
    Path(__file__).with_suffix(".tsv").write_text("\n".join(lines) + "\n", encoding="utf-8")


main()
