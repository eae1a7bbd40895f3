"""Charging sessions: weak outlets, recharge times of labels, taper with age, and an independent integration."""

import math

from service.catalogue import Catalogue, load_catalogue
from service.catalogue.evidence import Check, Mark
from service.charging.pilot import pilot_current_a
from service.quotes.charging_session import SessionAnswer, SessionAsk, build_session
from service.specs import Circuit
from service.units import KWH_J
from tests.evidence.checks import Source
from tests.published.test_charge_time import ROOM_K
from tests.published.test_fast_charge import AGED_TAPER, AGED_TAU_S, CASES, aged_seconds, fast_session

__all__ = ["age", "labels", "outlets", "pilots", "solver"]

STUDY = Source(
    "Charging efficiency",
    "logged study of 1 008 sessions of one plug-in hybrid, abstract",
    Mark.PUBLISHED,
    "one fixed overhead for all",
)
STUDY_FROM_MEMORY = Source("Charging efficiency", "the same study, a later paper, ±2 points", Mark.MEMORY)
EVENT = Source("Charging efficiency", "usable energy over recharge energy of certified cars, typically", Mark.MEMORY)
LABELS = Source(
    "Recharge time",
    "invented labels of the demo cars, hours set by common practice",
    Mark.PRACTICE,
    "with 20 min of balancing",
)
AGE = Source("Taper", "closed form, τ = R/k, cell aged to 80 % capacity, 150 % resistance", Mark.COMPUTED)
SOLVER = Source("Fast charging", "the same equations by SciPy solve_ivp, 1e-8", Mark.COMPUTED)
METERED = Source("Charging sessions", "pilot and circuit, worked by hand: SAE J1772, NEC 625.41", Mark.COMPUTED)
WEAK, STRONG = "na-household-15a", "na-wall-unit-30a"
LABEL_HOURS_WITHIN = 0.1
MEAN_KWH, SHORT_KWH = 6.0, 1.5  # stored: a usual session of such a car, and one of less than 2 kWh at the meter


def to_battery(answer: SessionAnswer) -> float:
    """Into the pack's terminals over the meter, as a logger on board sees it."""
    return (answer.stored_j + answer.losses_j["pack"]) / answer.wall_j


def outlets() -> list[Check]:
    """120 against 240 V with the invented compact plug-in hybrid, up to 80 % charge."""
    catalogue = load_catalogue()
    car = catalogue.vehicle("compact-plug-in")

    def share(outlet: str, kwh: float) -> float:
        start = 0.8 - kwh * KWH_J / car.battery.usable_j
        return to_battery(build_session(SessionAsk(car, catalogue.circuit(outlet), start, 0.8, ROOM_K), catalogue))

    weak, strong, short_weak, short_strong = (
        share(outlet, kwh) for kwh in (MEAN_KWH, SHORT_KWH) for outlet in (WEAK, STRONG)
    )
    return [
        STUDY.value("240 V better than 120 V, mean session", "3", 100 * (strong / weak - 1), "%", 1.0),
        STUDY.value("240 V better than 120 V, under 2 kWh", "13", 100 * (short_strong / short_weak - 1), "%", 1.0),
        STUDY_FROM_MEMORY.value("at 120 V", "84", 100 * weak, "%", 2.0),
        STUDY_FROM_MEMORY.value("at 240 V", "86.5", 100 * strong, "%", 2.0),
    ]


def whole_charge(vehicle_id: str, catalogue: Catalogue) -> SessionAnswer:
    """Empty to full at the charger's own rating, 25 °C."""
    car = catalogue.vehicle(vehicle_id)
    phases = car.onboard_charger_phases or 1
    circuit = Circuit("own", "", "own", 240.0 if phases == 1 else 230.0, 48.0, phases)
    return build_session(SessionAsk(car, circuit, 0.0, 1.0, ROOM_K), catalogue)


def labels() -> list[Check]:
    """Recharge times on the demo cars' labels, and what of the meter's energy can be used."""
    catalogue = load_catalogue()
    rows, events = [], []
    for car in catalogue.vehicles.values():
        if car.label is None:
            continue
        answer = whole_charge(car.id, catalogue)
        if car.label.recharge_s is not None:
            hours = car.label.recharge_s / 3600
            ours, within = answer.seconds / 3600, LABEL_HOURS_WITHIN * hours
            rows.append(LABELS.value(f"{car.name}, empty to full", f"{hours:.1f}", ours, "h", within))
        usable = car.battery.usable_j / answer.wall_j
        events.append(EVENT.span(f"{car.name}, usable over meter", 0.85, 0.9, usable, "1"))
    return events + rows


def age() -> list[Check]:
    """Taper point and time constant of a worn cell."""
    before_s = aged_seconds(AGED_TAPER - 0.03, AGED_TAPER).seconds
    printed = f"{0.03 * 0.8 * 50 * 3600 / 25:.1f}"
    rows = [AGE.value("worn: constant current at 25 A up to 0.90625 charge", printed, before_s, "s")]
    for share in (0.75, 0.5, 0.25):
        printed = f"{AGED_TAU_S * math.log(1 / share):.1f}"
        ours = aged_seconds(AGED_TAPER, 1 - share * (1 - AGED_TAPER)).seconds
        rows.append(AGE.value(f"worn: current falls to {share:g}", printed, ours, "s", 1e-3 * float(printed)))
    return rows


def solver() -> list[Check]:
    """Ten to eighty per cent at a direct-current station."""
    rows = []
    for name, *case in CASES:
        ours, (seconds, state) = fast_session(*case)
        rows.append(SOLVER.value(f"{name}: 10 to 80 %", f"{seconds:.1f}", ours.seconds, "s", 2e-3 * seconds))
        kwh = state[2] / KWH_J
        rows.append(SOLVER.value(f"{name}: at the plug", f"{kwh:.3f}", ours.wall_j / KWH_J, "kWh", 2e-3 * kwh))
    return rows


def pilots() -> list[Check]:
    """Worked examples 10 and 11 as sessions: what the meter shows."""
    catalogue = load_catalogue()
    car = catalogue.vehicle("mid-electric-sedan")
    rows = []
    for what, circuit, pilot_a, kw in (
        ("household outlet, 12 A at 120 V", catalogue.circuit(WEAK), None, "1.44"),
        ("duty 53.33 % on a 240 V circuit of 40 A", Circuit("c", "", "own", 240, 40), pilot_current_a(0.5333), "7.68"),
        ("duty 16.67 % on the same", Circuit("c", "", "own", 240, 40), pilot_current_a(0.1667), "2.40"),
    ):
        answer = build_session(SessionAsk(car, circuit, 0.3, 0.5, ROOM_K, pilot_a=pilot_a), catalogue)
        rows.append(METERED.value(what, kw, answer.curve.meter_w[0] / 1000, "kW"))
    return rows
