"""Charging: pilot and cable, circuits, times, taper."""

import math

from service.catalogue.evidence import Check, Mark
from service.charging.circuit import continuous_current_a, offered_power_w
from service.charging.conductor import drop_v, gauge_ohm_m, heat_w, section_ohm_m
from service.charging.pilot import cable_coding_current_a, offered_current_a, pilot_current_a
from service.charging.session import sessions
from service.specs import Circuit, Metal
from tests.evidence.checks import Source
from tests.published.test_charge_time import ROOM_K, cell_seconds, charger, pack, typical_draw
from tests.published.test_pilot import PRINTED
from tests.published.test_voltage_drop import AT_20_C, AT_70_C, AT_75_C, FOOT_M, GAUGES, METRIC

__all__ = ["circuits", "conductors", "drops", "pilot", "taper", "times"]

PILOT = Source("Control pilot", "SAE J1772 / IEC 61851-1, table of a test adapter's manual", Mark.PUBLISHED)
CODING = Source("Control pilot", "IEC 61851-1 annex B, cable coding", Mark.PUBLISHED)
NEC = Source("Circuits", "NEC 625.41/42: continuous load 125 %", Mark.PUBLISHED)
BS_1363 = Source("Circuits", "BS 1363: 10 A continuous of 13 A", Mark.PUBLISHED)
CEE = Source("Circuits", "CEE sockets at 230/400 V", Mark.COMPUTED)
IEC_60228 = Source("Conductors", "BS 7671 appendix 4, mV/(A·m) at 70 °C, two digits", Mark.MEMORY)
IACS = Source("Conductors", "NEC chapter 9 table 8, at 20 °C against 100 % IACS strands 2 % longer", Mark.COMPUTED)
MAKERS = Source(
    "Conductors", "cable makers' inverse temperature factors", Mark.PUBLISHED, "they use 0.004/K, we 0.00393/K"
)
DROPS = Source("Voltage drop", "2·I·R·L by IEC 60228 and NEC chapter 9 table 8, worked by hand", Mark.COMPUTED)
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
    rows.append(CODING.value("cable of 100 Ω on one phase", "70", cable_coding_current_a(100, 1), "A", 0.0))
    for duty, amps in ((8, "6"), (9, "6"), (16.67, "10.0"), (53.33, "32.0"), (66.67, "40.0"), (97, "80")):
        rows.append(PILOT.value(f"duty {duty:g} %", amps, pilot_current_a(duty / 100), "A", 0.05))
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


def conductors() -> list[Check]:
    """Resistance by section, gauge and temperature, against other tables than those it was taken from."""
    rows = []
    for mm2, mv in ((1.5, "29"), (2.5, "18"), (4, "11"), (6, "7.3"), (10, "4.4"), (16, "2.8")):
        ours = 1000 * drop_v(1, section_ohm_m(mm2, Metal.COPPER, AT_70_C), 1)
        rows.append(IEC_60228.value(f"{mm2:g} mm² copper, out and back", mv, ours, "mV/(A·m)"))
    for awg, solid in ((14, 2.525), (12, 1.588), (10, 0.9989), (8, 0.6282), (6, 0.3951)):
        printed, ours = f"{1.02 * solid:.3f}", gauge_ohm_m(awg, Metal.COPPER, AT_20_C) * 304.8
        rows.append(IACS.value(f"AWG {awg} copper at 20 °C", printed, ours, "Ω/kft", 0.005 * solid))
    for celsius, printed in ((40, "0.926"), (70, "0.833"), (90, "0.781")):
        cold, hot = (section_ohm_m(6, Metal.COPPER, 273.15 + each) for each in (20, celsius))
        rows.append(MAKERS.value(f"20 °C over {celsius} °C", printed, cold / hot, "1", 0.005))
    return rows


def drops() -> list[Check]:
    """Worked examples 12 and 13."""
    rows = []
    for mm2, amps, metres, kelvin, volts, _pct, watts in METRIC:
        ohm_m = section_ohm_m(mm2, Metal.COPPER, kelvin)
        what = f"{mm2:g} mm², {amps} A, {metres} m, {kelvin - 273.15:.0f} °C"
        rows.append(DROPS.value(what, f"{volts:.3f}", drop_v(amps, ohm_m, metres), "V"))
        if watts is not None:
            rows.append(DROPS.value(f"{what}: heat", f"{watts:.1f}", heat_w(amps, ohm_m, metres), "W"))
    for awg, amps, feet, _supply_v, volts, _pct in GAUGES:
        ours = drop_v(amps, gauge_ohm_m(awg, Metal.COPPER, AT_75_C), feet * FOOT_M)
        rows.append(DROPS.value(f"AWG {awg}, {amps} A, {feet} ft, 75 °C", f"{volts:.3f}", ours, "V"))
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
