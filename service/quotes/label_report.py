"""Two whole answers around labels: the car behind one, and what any car gets in a test."""

from dataclasses import replace

from service.catalogue import Catalogue
from service.quotes.answer import Assumption
from service.quotes.assume import Filling, complete_vehicle
from service.quotes.label import Moved, adjustment_note, behind_label, fitted, reproduced
from service.quotes.label_spread import Spread, spread_of
from service.quotes.procedure_run import Measured, Trial, measure
from service.quotes.procedures import LABEL_RECIPES, Recipe
from service.specs import Kind, Label, LabelProcedure, Vehicle

__all__ = ["label_report", "run_report"]

WEIGHTED = (
    "The consumption is taken as that of driving on electricity. A figure weighted with an expected share of electric "
    "driving is lower and would give too small a battery."
)
LabelReport = tuple[Vehicle, Label, tuple[Moved, ...], tuple[Spread, ...], tuple[Assumption, ...], tuple[str, ...]]


def label_report(vehicle: Vehicle, catalogue: Catalogue) -> LabelReport:
    """The car, the label as it gives it with its parts, what was moved, what is left open, assumptions and notes.

    Errors: `BadInput` by name where the label contradicts itself or the rest of what was stated.
    """
    found = fitted(vehicle, catalogue)
    car, recipe = found.vehicle, LABEL_RECIPES[vehicle.label.procedure]
    measured = measure([Trial(car)], recipe, catalogue, phases=True)
    values = {name: typical.value for name, typical in catalogue.typical.items()}
    notes = list(found.notes)
    if car.kind is Kind.PHEV and car.label.procedure is LabelProcedure.WLTP:
        notes.append(WEIGHTED)
    if car.label.all_electric_range_m and (car.label.range_m or 0.0) > car.label.all_electric_range_m:
        notes.append(
            "The range beyond the first start of the engine is not modelled: the range is that on electricity."
        )
    if adjustment_note(car.label):
        notes.append("The label's adjustment is not known: the spread is wider for it. It narrows once it is stated.")
    assumed = found.assumed + of_the_car(car, catalogue)
    return car, reproduced(found, measured), found.moved, spread_of(car, measured, values), assumed, tuple(notes)


def of_the_car(vehicle: Vehicle, catalogue: Catalogue) -> tuple[Assumption, ...]:
    """What a quote will assume of the car besides."""
    filling = Filling(catalogue)
    complete_vehicle(vehicle, None, filling)
    return tuple(filling.listed)


def run_report(
    vehicle: Vehicle, recipe: Recipe, catalogue: Catalogue
) -> tuple[Measured, Vehicle, tuple[Assumption, ...]]:
    """The test of a car, found behind its label where it has one; the car; what was moved and assumed.

    Errors: `BadInput` as above.
    """
    found = behind_label(vehicle, catalogue)
    car, moved = (vehicle, ()) if found is None else (found.vehicle, found.assumptions)
    measured = measure([Trial(replace(car, anchor=None))], recipe, catalogue, phases=True)
    return measured, car, moved + of_the_car(car, catalogue)
