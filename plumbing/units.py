"""Kinds of quantity with the spellings builders use, and SI floats written with a unit.

Inside there are only SI floats; `plumbing.quantities` reads them.
"""

import math
from collections.abc import Iterable

from plumbing.frozen import frozen


@frozen
class Kind:
    """A kind of quantity.

    Attributes
    ----------
    name : str
        What it is called in messages.
    si : str
        SI unit, in the units library's spelling.
    units : dict of str to (float, float)
        Builders' spellings: factor to SI and offset added after it.
    shown : str
        Unit used in output.
    example : str
        Right form, for messages.
    """

    name: str
    si: str
    units: dict[str, tuple[float, float]]
    shown: str
    example: str


def _kind(name: str, si: str, shown: str, example: str, **units: float) -> Kind:
    return Kind(name, si, {unit: (factor, 0.0) for unit, factor in units.items()}, shown, example)


_INCH = 0.0254
_LB = 0.45359237
_MIN = 60.0
_YEAR = 31557600.0

KINDS: dict[str, Kind] = {
    "length": _kind(
        "a length",
        "m",
        "mm",
        "420 mm",
        mm=1e-3,
        cm=1e-2,
        m=1.0,
        um=1e-6,
        **{"in": _INCH, "inch": _INCH, "ft": 12 * _INCH},
    ),
    "area": _kind("an area", "m**2", "mm2", "120 mm2", mm2=1e-6, cm2=1e-4, m2=1.0),
    "volume": _kind(
        "a volume",
        "m**3",
        "ml",
        "1.5 L",
        ml=1e-6,
        mL=1e-6,
        cl=1e-5,
        dl=1e-4,
        l=1e-3,
        L=1e-3,
        cm3=1e-6,
        m3=1.0,
    ),
    "mass": _kind("a mass", "kg", "g", "85 g", g=1e-3, kg=1.0, lb=_LB, oz=_LB / 16),
    "time": _kind("a time", "s", "s", "90 s", s=1.0, min=_MIN, h=3600.0, ms=1e-3),
    "age": _kind(
        "an age",
        "s",
        "years",
        "1.5 years",
        years=_YEAR,
        year=_YEAR,
        months=2629800.0,
        month=2629800.0,
        days=86400.0,
        day=86400.0,
    ),
    "flow": _kind(
        "a volume flow",
        "m**3/s",
        "ml/min",
        "540 ml/min",
        **{
            "ml/min": 1e-6 / _MIN,
            "mL/min": 1e-6 / _MIN,
            "l/min": 1e-3 / _MIN,
            "L/min": 1e-3 / _MIN,
            "ml/s": 1e-6,
            "L/s": 1e-3,
            "L/h": 1e-3 / 3600,
            "m3/s": 1.0,
        },
    ),
    "pressure": _kind(
        "a pressure",
        "Pa",
        "kPa",
        "12 kPa",
        Pa=1.0,
        hPa=100.0,
        kPa=1e3,
        bar=1e5,
        mbar=100.0,
        MPa=1e6,
        psi=6894.757293168361,
    ),
    "temperature": Kind(
        "a temperature",
        "degC",
        {
            "degC": (1.0, 0.0),
            "°C": (1.0, 0.0),
            "C": (1.0, 0.0),
            "K": (1.0, -273.15),
            "degF": (5 / 9, -160 / 9),
        },
        "degC",
        "-10 degC",
    ),
    "angle": _kind(
        "an angle", "rad", "deg", "12 deg", deg=math.pi / 180, rad=1.0, **{"°": math.pi / 180}
    ),
    "density": _kind(
        "a density",
        "kg/m**3",
        "kg/m3",
        "800 kg/m3",
        **{"kg/m3": 1.0, "g/cm3": 1e3, "kg/L": 1e3, "g/ml": 1e3},
    ),
    "viscosity": _kind(
        "a kinematic viscosity",
        "m**2/s",
        "mm2/s",
        "1.6 mm2/s",
        **{"mm2/s": 1e-6, "cSt": 1e-6, "m2/s": 1.0},
    ),
    "speed": _kind(
        "a speed",
        "m/s",
        "m/s",
        "60 m/s",
        **{"m/s": 1.0, "km/h": 1 / 3.6, "mph": 0.44704, "kn": 1852 / 3600, "mm/s": 1e-3},
    ),
    "force": _kind("a force", "N", "N", "160 N", N=1.0, kN=1e3, kgf=9.80665, lbf=4.4482216152605),
    "moment": _kind("a moment", "N*m", "N m", "1.8 N m", **{"N m": 1.0, "Nm": 1.0}),
    "voltage": _kind("a voltage", "V", "V", "7.4 V", V=1.0, mV=1e-3),
    "charge": _kind("a battery capacity", "A*h", "mAh", "2500 mAh", mAh=1e-3, Ah=1.0),
    "share": _kind("a share", "", "%", "55 %", **{"%": 0.01}),
    "ratio": _kind("a plain number", "", "", "0.8", **{"": 1.0}),
    "count": _kind("a count", "", "", "3", **{"": 1.0}),
    "load factor": _kind("a load factor", "", "g", "6 g", g=1.0),
    "mass flow": _kind(
        "a mass flow",
        "kg/s",
        "g/min",
        "430 g/min",
        **{"g/min": 1e-3 / _MIN, "kg/h": 1 / 3600, "g/s": 1e-3},
    ),
    "linear mass": _kind(
        "a mass per length", "kg/m", "g/m", "18 g/m", **{"g/m": 1e-3, "kg/m": 1.0}
    ),
    "hardness": _kind(
        "a Shore A hardness", "", "Shore A", "95 Shore A", **{"Shore A": 1.0, "ShA": 1.0}
    ),
}


_FINEST = {"volume": 1e-7}  # steps nobody can measure below [SI]
_WHOLE = frozenset({"length"})  # said to the millimetre also beyond a metre
_FAR = 1e5  # up to here [unit shown]
_LARGE = {  # unit shown from this SI value upwards
    "mass": ("kg", 1.0),
    "volume": ("L", 1e-3),
    "length": ("m", 10.0),
}
_SMALL = {"age": ("months", _YEAR)}  # unit shown below this SI value


def show(value: float, kind: str, digits: int = 3) -> str:
    """Write an SI value in the unit builders use, with no more digits than are honest.

    Parameters
    ----------
    value : float
        SI value.
    kind : str
        Key of `KINDS`.
    digits : int
        Significant digits.

    Returns
    -------
    str
        Such as `12.6 kPa`.
    """
    step = _FINEST.get(kind)
    if step is not None and math.isfinite(value):
        value = round(value / step) * step
    unit = _unit(value, kind)
    shown = in_unit(value, kind, unit)
    if kind in _WHOLE and abs(shown) < _FAR and math.isfinite(shown):
        digits = max(digits, len(str(int(abs(shown)))))
    number = _rounded(shown, digits)
    if not unit:
        return number
    if unit in ("years", "months") and number == "1":
        unit = unit.removesuffix("s")
    return f"{number} {unit}"


def show_point(point: Iterable[float]) -> str:
    """Write a point [m] as builders read it off a drawing: `x 200 mm, y 45 mm, z -33 mm`."""
    return ", ".join(
        f"{axis} {show(value, 'length')}" for axis, value in zip("xyz", point, strict=True)
    )


def _unit(value: float, kind: str) -> str:
    """Unit a value is shown in."""
    large, least = _LARGE.get(kind, ("", math.inf))
    small, most = _SMALL.get(kind, ("", 0.0))
    if abs(value) >= least:
        return large
    return small if 0.0 < abs(value) < most else KINDS[kind].shown


def apart(one: float, other: float, kind: str) -> tuple[str, str]:
    """Write two SI values with as many digits as tell them apart, three at least."""
    for digits in range(3, 10):
        texts = show(one, kind, digits), show(other, kind, digits)
        if texts[0] != texts[1]:
            break
    return texts


def clock(seconds: float) -> str:
    """Write a time as minutes and seconds; below a minute as seconds alone."""
    whole = round(seconds)
    return f"{whole // 60} min {whole % 60:02d} s" if whole >= 60 else f"{whole} s"


def in_unit(value: float, kind: str, unit: str) -> float:
    """Express an SI value in one of the spellings of its kind."""
    factor, offset = KINDS[kind].units[unit]
    return (value - offset) / factor


_NOTHING = 1e-12  # rounding of sums, not a quantity a builder has a unit for


def _rounded(number: float, digits: int) -> str:
    if not math.isfinite(number):
        return str(number)
    if abs(number) < _NOTHING:
        return "0"
    places = digits - 1 - math.floor(math.log10(abs(number)))
    rounded = round(number, places)
    return (
        f"{rounded:.{max(places, 0)}f}".rstrip("0").rstrip(".") if places > 0 else f"{rounded:.0f}"
    )
