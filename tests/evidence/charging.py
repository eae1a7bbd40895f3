"""Charging: pilot and cable, circuits, times, taper."""

import math

from service.catalogue.evidence import Check, Mark
from service.charging.circuit import continuous_current_a, offered_power_w
from service.charging.pilot import cable_coding_current_a, offered_current_a, pilot_current_a
from service.charging.session import sessions
from service.specs import Circuit
from tests.evidence.checks import Source
from tests.published.test_charge_time import ROOM_K, cell_seconds, charger, pack, typical_draw
from tests.published.test_pilot import PRINTED

__all__ = ["circuits", "pilot", "taper", "times"]

PILOT = Source("Control pilot", "SAE J1772 / IEC 61851-1, table of a test adapter's manual", Mark.PUBLISHED)
CODING = Source("Control pilot", "IEC 61851-1 annex B, cable coding", Mark.PUBLISHED)
NEC = Source("Circuits", "NEC 625.41/42: continuous load 125 %", Mark.PUBLISHED)
BS_1363 = Source("Circuits", "BS 1363: 10 A continuous of 13 A", Mark.PUBLISHED)
CEE = Source("Circuits", "CEE sockets at 230/400 V", Mark.COMPUTED)
TIMES = Source("Charging time", "energy over power and efficiency, worked by hand", Mark.COMPUTED)
STUDY = Source("Charging time", "conversion 0.93 and 0.2 kW fixed, worked by hand", Mark.COMPUTED)
TAPER = Source("Taper", "closed form, I falls with τ = R/k, 50 Ah, 2 mΩ, 0.8 V", Mark.COMPUTED)


def pilot() -> list[Check]:
    """The whole printed table, and worked example 10."""
    rows = [
        PILOT.value(f"duty {duty} %", f"{amps:.1f}", pilot_current_a(duty / 100), "A", 0.05) for duty, amps in PRINTED
    ]
    for ohm, amps in ((1500, "13"), (680, "20"), (220, "32"), (100, "63")):
        rows.append(CODING.value(f"cable of {ohm} Ω", amps, cable_coding_current_a(ohm), "A", 0.0))
    thin_a = offered_current_a(pilot_current_a(32 / 60), 680)
    return [*rows, CODING.value("cable of 680 Ω, pilot of 32 A", "20", thin_a, "A", 0.0)]


def circuits() -> list[Check]:
    """Receptacle ratings and worked example 11."""
    rows = []
    for breaker_a, volts, kw in (
        (15, 120, "1.44"), (20, 120, "1.92"), (20, 240, "3.84"), (30, 240, "5.76"), (50, 240, "9.60"),
        (60, 240, "11.52"), (100, 240, "19.2"),
    ):  # fmt: skip
        amps = continuous_current_a(breaker_a, "north_america")
        circuit = Circuit("c", "", "north_america", volts, amps)
        rows.append(NEC.value(f"{breaker_a} A at {volts} V", kw, offered_power_w(circuit) / 1000, "kW"))
    sagging = Circuit("c", "", "north_america", 114, 12)
    domestic = Circuit("c", "", "united_kingdom", 230, continuous_current_a(13, "united_kingdom"))
    rows.append(NEC.value("12 A at 114 V", "1.368", offered_power_w(sagging) / 1000, "kW"))
    rows.append(BS_1363.value("domestic socket", "2.3", offered_power_w(domestic) / 1000, "kW"))
    for amps, phases, volts, kw in (
        (16, 1, 230, "3.68"), (32, 1, 230, "7.36"), (16, 3, 400 / 3**0.5, "11.09"), (32, 3, 400 / 3**0.5, "22.17"),
    ):  # fmt: skip
        circuit = Circuit(
            "c", "", "continental_europe", volts, continuous_current_a(amps, "continental_europe"), phases
        )
        rows.append(CEE.value(f"{amps} A, phases: {phases}", kw, offered_power_w(circuit) / 1000, "kW"))
    return rows


def session(kwh: float, kw: float, conversion: float, fixed_w: float = 0.0):
    """A pack of next to no resistance, empty to full."""
    car = pack(kwh * 1000 / 360, 340.0, 380.0, 1e-6, 400.0, 1e4)
    return sessions(car, typical_draw(), charger(1000 * kw, conversion, fixed_w), 0, 1, ROOM_K, ROOM_K)[0]


def times() -> list[Check]:
    """Worked example 14, and the handicap of weak outlets."""
    rows = []
    for kwh, kw, efficiency, hours in (
        (10, 1.44, 0.83, "8.367"), (10, 3.3, 0.88, "3.444"), (17, 3.3, 0.88, "5.854"), (60, 7.2, 0.90, "9.259"),
    ):  # fmt: skip
        done = session(kwh, kw, efficiency)
        rows.append(TIMES.value(f"{kwh} kWh at {kw:g} kW, efficiency {efficiency:g}", hours, done.seconds / 3600, "h"))
        if kwh == 10:
            printed = {1.44: "12.048", 3.3: "11.364"}[kw]
            rows.append(TIMES.value(f"{kwh} kWh at {kw:g} kW: from the socket", printed, done.wall_j / 3.6e6, "kWh"))
    for kw, share in ((1.44, "0.80"), (3.3, "0.874"), (7.2, "0.904")):
        done = session(20, kw, 0.93, 200.0)
        rows.append(STUDY.value(f"efficiency at {kw:g} kW", share, done.terminals_j / done.wall_j, "1", 2e-3))
    return rows


def taper() -> list[Check]:
    """Constant current, constant voltage."""
    rows = []
    for share in (0.75, 0.5, 0.25):
        printed = f"{450 * math.log(1 / share):.1f}"
        ours = cell_seconds(0.5, 0.9375, 1 - share * (1 - 0.9375)).seconds
        rows.append(TAPER.value(f"current falls to {share:g} of 0.5 C", printed, ours, "s", 1e-3 * float(printed)))
    whole_s = cell_seconds(0.5, 0.5, 1.0).seconds
    printed = f"{0.4375 * 7200 + 450 * math.log(10):.0f}"
    rows.append(TAPER.value("half to full at 0.5 C, ends at 0.05 C", printed, whole_s, "s", 1e-3 * float(printed)))
    for rate, taper_at in ((0.5, "0.9375"), (0.07, "0.99125")):
        constant_s = cell_seconds(rate, float(taper_at) - 0.03, float(taper_at)).seconds
        printed = f"{0.03 * 3600 / rate:.1f}"
        rows.append(TAPER.value(f"constant current at {rate:g} C up to {taper_at} charge", printed, constant_s, "s"))
    return rows
