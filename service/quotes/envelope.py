"""What a car pulls on electricity alone, how fast it goes so, and where a journey asks for more.

Path     complete the question → machines, heat, supply and controls of its layout → forces over speed, top speeds,
         the journey's points, and the speeds in a planetary gear.
Stands   as at the start: pack at its temperature and charge then, cabin drawing what it draws first.
"""

import math
from dataclasses import dataclass

import numpy as np

from service.catalogue import Catalogue
from service.physics.drivetrain import drive_loss_w
from service.physics.envelope import (
    CONTROL_SPEED,
    GENERATOR_SPEED,
    Controls,
    Curve,
    envelope_curve,
    pull_n,
    road_load_n,
    top_speed_m_s,
)
from service.physics.lasting import seconds_at_power
from service.physics.power_split import engine_still_limit_m_s, gear_speeds, least_engine_rad_s
from service.quotes.answer import Assumption
from service.quotes.assume import complete
from service.quotes.electric_side import (
    MOMENT_S,
    Electric,
    electric_side,
    layout_assumptions,
    layout_of,
    traction,
)
from service.quotes.label import anchored
from service.quotes.scenarios import rows_for
from service.specs import Ask, Journey, Layout, PowerSplit
from service.trips.journey import trace_of
from service.trips.trace import Trace
from service.units import KM_H, RPM

__all__ = ["ENGINE_RAD_S", "GRADES", "Envelope", "GearRow", "JourneyPoint", "TopSpeed", "build_envelope"]

STEP_M_S = 2 * KM_H
BEYOND_TOP = 1.25  # how far the curves go on after the top speed
LEAST_SHOWN_M_S, MOST_SHOWN_M_S = 100 * KM_H, 260 * KM_H
GRADES = (0.0, 0.02, 0.04, 0.06, 0.08, 0.1)
SPEED_BIN_M_S, FORCE_BIN_N = 5 * KM_H, 250.0  # how finely a journey's points are gathered
GEAR_STEP_M_S, GEAR_LAST_M_S = 10 * KM_H, 160 * KM_H
ENGINE_RAD_S = (0.0, 1000 * RPM, 2000 * RPM, 4000 * RPM)  # standing, idling, cruising, pulling: common practice
NOT_ASKED = ("charg", "braking", "wind", "sun")  # assumptions that an envelope does not rest on


@dataclass(frozen=True, slots=True)
class TopSpeed:
    """Fastest steady speed on one grade, and what ends it."""

    grade: float
    speed_m_s: float
    limited_by: str


@dataclass(frozen=True, slots=True)
class JourneyPoint:
    """Part of a journey's time spent about one speed and force."""

    speed_m_s: float
    force_n: float
    share: float


@dataclass(frozen=True, slots=True)
class GearRow:
    """The planetary gear at one road speed and one engine speed, rad/s. `within`: the generator motor may turn so."""

    speed_m_s: float
    engine_rad_s: float
    ring_rad_s: float
    sun_rad_s: float
    within: bool


@dataclass(frozen=True, slots=True)
class Envelope:
    """The answer, in SI."""

    ask: Ask
    layout: Layout
    moment: Curve  # for ten seconds
    held: Curve  # for as long as one likes
    road_load_n: np.ndarray
    top_speeds: tuple[TopSpeed, ...]
    seconds_at_top: float
    pack_w: float
    load_w: float
    push_n: float
    gears: tuple[GearRow, ...]
    gear_limit_m_s: float | None
    least_engine: tuple[tuple[float, float], ...]  # road speed, slowest engine that the gear allows
    points: tuple[JourneyPoint, ...]
    beyond: float | None  # share of the driving time that asks for more than the moment's envelope
    assumptions: tuple[Assumption, ...]
    findings: tuple[str, ...]  # what the figures say, in words
    notes: tuple[str, ...]  # what they rest on, and what is not known

    @property
    def top(self) -> TopSpeed:
        """On the level."""
        return self.top_speeds[0]


def build_envelope(
    ask: Ask, catalogue: Catalogue, oil: float | None = None, engine_rad_s: tuple[float, ...] = ENGINE_RAD_S
) -> Envelope:
    """The electric-only envelope of a question.

    Args:
        ask: gaps allowed; an empty journey has no points.
        oil: oil circulation in the machines, 0…1; None: typical for the layout.
        engine_rad_s: engine speeds at which a planetary gear is told.
    Errors: as `build_quote`.
    """
    ask, moved = anchored(ask, catalogue)
    ask, assumptions = complete(ask, catalogue, with_engine=False)
    values = {name: typical.value for name, typical in catalogue.typical.items()}
    layout = layout_of(ask.vehicle)
    listed = [*moved, *(each for each in assumptions if not any(word in each.name for word in NOT_ASKED))]
    listed += layout_assumptions(ask.vehicle, layout, oil, catalogue)
    cars, days = rows_for(ask, catalogue, values)
    electric = electric_side(ask, layout, oil, cars[0], days[0], values)
    tops = tuple(
        TopSpeed(grade, *top_speed_m_s(electric.car, electric.day, *traction(electric), grade)) for grade in GRADES
    )
    speeds = speeds_shown(tops[0].speed_m_s, electric.controls)
    split = ask.vehicle.power_split if layout is Layout.POWER_SPLIT else None
    trace = trace_of(ask.journey, catalogue) if ask.journey != Journey() else None
    points, beyond = journey_points(trace, electric) if trace else ((), None)
    return Envelope(
        ask=ask,
        layout=layout,
        moment=envelope_curve(speeds, *traction(electric), MOMENT_S),
        held=envelope_curve(speeds, *traction(electric), math.inf),
        road_load_n=np.array([road_load_n(electric.car, electric.day, float(speed), 0.0) for speed in speeds]),
        top_speeds=tops,
        seconds_at_top=seconds_at(electric, ask, tops[0].speed_m_s),
        pack_w=electric.supply.pack_w,
        load_w=electric.supply.load_w,
        push_n=electric.machines.push_n,
        gears=gear_rows(split, engine_rad_s) if split else (),
        gear_limit_m_s=engine_still_limit_m_s(split) if split else None,
        least_engine=least_engine_rows(split) if split else (),
        points=points,
        beyond=beyond,
        assumptions=tuple(listed),
        findings=findings_on(tops[0], beyond),
        notes=notes_on(ask, layout, electric),
    )


def speeds_shown(top_m_s: float, controls: Controls) -> np.ndarray:
    """Speeds of the curves: from rest to beyond the top speed."""
    return speeds_to(min(max(BEYOND_TOP * top_m_s, LEAST_SHOWN_M_S), MOST_SHOWN_M_S), controls)


def speeds_to(last_m_s: float, controls: Controls) -> np.ndarray:
    """From rest to a last speed, both sides of every end of the curves among them."""
    speeds = [*np.arange(0.0, last_m_s + STEP_M_S / 2, STEP_M_S)]
    for end_m_s in (controls.speed_m_s, controls.gear_m_s):
        if end_m_s < last_m_s:
            speeds += [end_m_s, math.nextafter(end_m_s, math.inf)]
    return np.array(sorted(speeds))


def seconds_at(electric: Electric, ask: Ask, speed_m_s: float) -> float:
    """How long the charge lasts at a steady speed on the level, down to the car's own low-charge trigger, s."""
    if speed_m_s <= 0:
        return 0.0
    machines = electric.machines
    force_n = road_load_n(electric.car, electric.day, speed_m_s, 0.0)
    losses = (machines.copper_w_n2, machines.inverter_w_n, machines.gear_share, machines.ready_w)
    drawn_w = force_n * speed_m_s + drive_loss_w(force_n, speed_m_s, *losses) + electric.supply.load_w
    triggers = ask.vehicle.triggers
    floor = (triggers.low_charge or 0.0) if triggers else 0.0
    return seconds_at_power(electric.car, electric.pack_k, ask.start.state_of_charge, floor, drawn_w)


def gear_rows(split: PowerSplit, engine_rad_s: tuple[float, ...]) -> tuple[GearRow, ...]:
    """The gear at rising road speeds, for each engine speed."""
    rows = []
    for engine in engine_rad_s:
        for speed_m_s in np.arange(0.0, GEAR_LAST_M_S + GEAR_STEP_M_S / 2, GEAR_STEP_M_S):
            gear = gear_speeds(split, float(speed_m_s), engine)
            within = abs(gear.sun_rad_s) <= split.generator_max_rad_s
            rows.append(GearRow(float(speed_m_s), engine, gear.ring_rad_s, gear.sun_rad_s, within))
    return tuple(rows)


def least_engine_rows(split: PowerSplit) -> tuple[tuple[float, float], ...]:
    """Slowest engine that the gear allows, over road speed."""
    speeds = np.arange(0.0, GEAR_LAST_M_S + GEAR_STEP_M_S / 2, GEAR_STEP_M_S)
    return tuple((float(speed), least_engine_rad_s(split, float(speed))) for speed in speeds)


def journey_points(trace: Trace, electric: Electric) -> tuple[tuple[JourneyPoint, ...], float]:
    """Where a journey lies in speed and force, gathered, and the share of its driving that asks for too much.

    Shares are of the journey's time; standing and braking have no point.
    """
    speed_m_s = 0.5 * (trace.speed_m_s[1:] + trace.speed_m_s[:-1])
    force_n = pull_n(electric.car, electric.day, trace.step_s, trace.speed_m_s, trace.grade)
    pulls = force_n > 0
    if not pulls.any():
        return (), 0.0
    speed_m_s, force_n, step_s = speed_m_s[pulls], force_n[pulls], trace.step_s[pulls]
    grid = speeds_to(float(speed_m_s.max()), electric.controls)
    most_n = np.interp(speed_m_s, grid, envelope_curve(grid, *traction(electric), MOMENT_S).force_n)
    cells, place = np.unique(
        np.stack([speed_m_s // SPEED_BIN_M_S, force_n // FORCE_BIN_N], axis=1), axis=0, return_inverse=True
    )
    seconds, by_speed, by_force = (
        np.bincount(place.ravel(), step_s * column, len(cells)) for column in (1.0, speed_m_s, force_n)
    )
    points = tuple(
        JourneyPoint(float(v / s), float(f / s), float(s / trace.duration_s))
        for s, v, f in zip(seconds, by_speed, by_force, strict=True)
    )
    return points, float(step_s[force_n > most_n].sum() / step_s.sum())


def findings_on(top: TopSpeed, beyond: float | None) -> tuple[str, ...]:
    """What ends the speed, and whether a journey asks for more."""
    findings = []
    if top.limited_by == CONTROL_SPEED:
        findings.append(
            "The car's own controls end electric driving at this speed; motor, gear and battery could go on."
        )
    if top.limited_by == GENERATOR_SPEED:
        findings.append("Faster than this the generator motor would turn too fast unless the engine turns as well.")
    if beyond:
        findings.append(
            f"For {100 * beyond:.1f} % of the driving time this journey asks for more than the electric side gives."
        )
    return tuple(findings)


def notes_on(ask: Ask, layout: Layout, electric: Electric) -> tuple[str, ...]:
    """What has to be said beside the figures, the weightiest first."""
    notes, vehicle = [], ask.vehicle
    if electric.supply.load_w >= electric.supply.pack_w:
        notes.append("The battery cannot even feed heating and electronics as the car stands.")
    if vehicle.kind.has_engine and vehicle.triggers is None:
        notes.append("At which speed or power this car's controls start the engine is not known; it may be sooner.")
    if layout is Layout.POWER_SPLIT and vehicle.power_split is None:
        notes.append("The planetary gear of this car is not known, so neither is the speed at which it ends.")
    split = vehicle.power_split
    if split is not None and split.one_way_clutch and split.generator_n_m is None:
        notes.append("The clutch lets the generator motor push, too; its torque is not known and is left out.")
    if not vehicle.kind.has_engine:
        notes.append("The motor's own highest speed, and a limit set by the maker, are not known.")
    notes.append(
        "As the car stands at the start: battery at that temperature and charge, warmed tyres, wind from any side."
    )
    if ask.weather.surface != "dry":
        notes.append("The grip of the driven wheels is that of a dry road; on this one it is less.")
    return tuple(notes)
