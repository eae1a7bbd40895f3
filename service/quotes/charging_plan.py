"""A charging plan, whole: the pure function from question to answer.

Path     the car behind its label → gaps filled → the course of the charge at full pace → the three plans.
Scope    planned for the typical car; how others fare on its timetable is `plan_band`. The pack stands at the day's
         temperature at plugging in.
"""

from dataclasses import dataclass, replace

from service.catalogue import Catalogue
from service.charging import charger_row
from service.charging.course import Course, course_of
from service.charging.onboard import phases_in_use, socket_w
from service.charging.plan import PlanLine, Plans, PlanTask, plan_for
from service.charging.tariff import MonthSoFar, Stretch, cost_of, price_steps
from service.charging.weakest import weakest_of, weakest_sentence
from service.errors import BadInput
from service.physics.precondition import PACK_S, PRECONDITION_S, warm_on_the_wall_j
from service.physics.tables import central_draw, start_state
from service.quotes.answer import Assumption
from service.quotes.assume import complete
from service.quotes.label import anchored
from service.quotes.plan_band import PlanBand, plan_band
from service.quotes.scenarios import rows_for, wants_preconditioning
from service.quotes.supply import supply_assumption
from service.specs import Ask, Start, Tariff

__all__ = ["ChargingPlan", "PlanAsk", "build_charging_plan"]

ON_THIS = ("charg", "pack", "cell", "onboard")  # assumptions that count
ON_READYING = ("cabin", "humidity", "sun", "heat pump")
STEADY = 1.0  # of a draw: the typical car
NEAR_FULL = 0.005  # of the window: less is no difference to tell


@dataclass(frozen=True, eq=False, slots=True)
class PlanAsk:
    """The question. The charge at the start, and whether the cabin is readied, stand in `ask.start`."""

    ask: Ask
    to_charge: float
    arrives_s: float  # POSIX
    departs_s: float
    tariff: Tariff
    so_far: MonthSoFar


@dataclass(frozen=True, eq=False, slots=True)
class ChargingPlan:
    """The answer, in SI."""

    question: PlanAsk  # completed
    plans: Plans
    full_w: float  # at the socket, while nothing tapers
    limited_by_sentence: str
    heating_s: float  # of a cold pack, before charging begins
    band: PlanBand | None  # of the cheapest; None where the target is not reached
    assumptions: tuple[Assumption, ...]
    notes: tuple[str, ...]


def build_charging_plan(asked: PlanAsk, catalogue: Catalogue) -> ChargingPlan:
    """How to be ready by an hour, and what it costs.

    Args:
        asked: gaps allowed in its `ask`; its journey does not matter.
    Errors: `BadInput` for a car without an inlet, or a label that contradicts the rest.
    """
    if not asked.ask.vehicle.kind.plugs_in:
        raise BadInput("vehicle", asked.ask.vehicle.id, "this car has no inlet", "choose a car that plugs in")
    ask, moved = anchored(asked.ask, catalogue)
    ask, assumptions = complete(ask, catalogue)
    asked = replace(asked, ask=ask)
    values = {name: typical.value for name, typical in catalogue.typical.items()}
    cars, days = rows_for(ask, catalogue, values)
    charger = charger_row(ask.vehicle, ask.circuit, values["charger_conversion"], values["charger_fixed_w"])
    worth_w = ask.circuit.volts * phases_in_use(ask.circuit.phases, ask.vehicle.onboard_charger_phases)
    ambient_k = ask.weather.ambient_k
    course = course_of(
        cars[0], central_draw()[0], charger, ask.start.state_of_charge, asked.to_charge, ambient_k, worth_w
    )
    readying, short_w = _readying(asked, cars[0], days, charger)
    task = None if course is None else _task(asked, course, readying, charger)
    plans = _nothing_flows(asked, readying) if task is None else plan_for(task)
    counts = ON_THIS + (ON_READYING if readying else ())
    return ChargingPlan(
        question=asked,
        plans=plans,
        full_w=float(charger.ac_w),
        limited_by_sentence=weakest_sentence(weakest_of(ask.vehicle, ask.circuit, cars[0], charger, ambient_k)),
        heating_s=course.heating_s if course else 0.0,
        band=None if task is None else plan_band(plans.cheapest, task, ask, cars, values),
        assumptions=(
            *moved,
            *(each for each in assumptions if any(word in each.name for word in counts)),
            supply_assumption(ask.circuit),
        ),
        notes=_notes(asked, course, plans, short_w, cars[0]),
    )


def _task(asked: PlanAsk, course: Course, readying: tuple[Stretch, ...], charger) -> PlanTask:
    run = (float(charger.in_use), float(charger.supply_v), float(charger.run_ohm))
    return PlanTask(course, asked.tariff, asked.arrives_s, asked.departs_s, readying, asked.so_far, run)


def _readying(asked: PlanAsk, car, days, charger) -> tuple[tuple[Stretch, ...], float]:
    """Cabin and pack on the wall before departure, and the power that the outlet lacks for it, W.

    Spread evenly over the time that `physics.precondition` takes; the pack counts as cold, whenever it was charged.
    """
    if not wants_preconditioning(asked.ask):
        return (), 0.0
    draw, state = central_draw()[0], start_state(Start(), car, days[0])[0]
    parked_k = float(state.pack_k)
    needed_j = warm_on_the_wall_j(car, days[0], draw, state)
    lasts_s = float(PACK_S if abs(state.pack_k - parked_k) > 0.5 else PRECONDITION_S)
    if needed_j <= 0:
        return (), 0.0
    wanted_w = socket_w(needed_j / lasts_s, charger.conversion, charger.fixed_w, STEADY)
    wall_w = min(wanted_w, float(charger.ac_w))
    starts_s = max(asked.arrives_s, asked.departs_s - lasts_s)
    return (Stretch(starts_s, asked.departs_s, wall_w),), wanted_w - wall_w


def _nothing_flows(asked: PlanAsk, readying: tuple[Stretch, ...]) -> Plans:
    """The socket only just feeds the charger's overhead, or the pack counts as full already."""
    short_j = (asked.to_charge - asked.ask.start.state_of_charge) * asked.ask.vehicle.battery.usable_j
    cost = cost_of(asked.tariff, readying, asked.so_far)
    lines = [PlanLine(name, (), readying, cost, None) for name in ("at_once", "as_late_as_possible", "cheapest")]
    steps = price_steps(asked.tariff, asked.arrives_s, asked.departs_s)
    return Plans(*lines, False, short_j, float("inf"), steps, 0.0)


def _notes(asked: PlanAsk, course: Course | None, plans: Plans, short_w: float, car) -> tuple[str, ...]:
    """What the answer gives reason to say."""
    notes = []
    if course is None:
        return ("No charge flows: the outlet only just feeds the car's own units, or the battery counts as full.",)
    if course.complete and asked.to_charge - float(course.charge[-1]) > NEAR_FULL:
        notes.append(f"The battery counts as full at {100 * float(course.charge[-1]):.0f} % here.")
    if course.heating_s > 0:
        notes.append(
            f"The cold battery is heated for {course.heating_s / 60:.0f} min before it charges, so it is charged in "
            "one go."
        )
    elif car.pack_heater_w <= 0 and asked.ask.weather.ambient_k < 278.15:
        notes.append("This battery has no heater: the longer a pause, the colder and slower it goes on.")
    if short_w > 1:
        notes.append(
            f"Readying the cabin takes {short_w / 1000:.1f} kW more than the outlet gives; that comes from the battery."
        )
    if plans.gap > 1e-3:
        notes.append(f"A still cheaper plan is not ruled out, by {100 * plans.gap:.1f} % at most.")
    if asked.tariff.demand_per_w > 0 and asked.so_far.peak_w == 0:
        notes.append(
            "The demand charge is counted as if nothing else ran: give the month's peak so far if it is known."
        )
    return tuple(notes)
