"""One tiny drive of every kind of physics, printed as JSON, for test_interpreted.py: compiled and interpreted."""

import json

import numpy as np

from service.catalogue import load_catalogue
from service.charging import charger_row, sessions
from service.physics.laps import LEDGER_ROWS, drive_to_empty, flat_view
from service.physics.march import EVENT_KINDS, march_one
from service.physics.rows import EVENT, LEDGER, RECORD, START, table
from service.physics.tables import central_draw, start_state
from service.quotes.assume import complete
from service.quotes.scenarios import rows_for
from service.specs import Ask, Cabin, Journey, Leg, Start, Weather
from service.trips.legs import legs_trace

LEGS = (Leg(250.0, 14.0, grade=0.04), Leg(250.0, 12.0, grade=-0.06))


def drives():
    """Ledgers, states and events of four cars on four days: heat pump, chilled pack, cut-out, dried air."""
    catalogue = load_catalogue()
    values = {name: typical.value for name, typical in catalogue.typical.items()}
    trace = legs_trace(LEGS)
    path = trace.path
    for id_, kelvin, charge in (
        ("mid-electric-sedan", 263.15, 0.9), ("compact-plug-in", 309.15, 0.5), ("small-electric-hatch", 240.0, 0.02),
        ("large-electric-suv", 283.15, 0.7),
    ):  # fmt: skip
        weather = Weather(kelvin, 0.6, 3.0, 300.0, 500.0, "wet")
        ask = Ask(catalogue.vehicles[id_], Journey(legs=LEGS), weather, start=Start(charge), cabin=Cabin(occupants=2))
        filled, _ = complete(ask, catalogue)
        car, day = rows_for(filled, catalogue, values)
        state, ledger = start_state(ask.start, car[0], day[0]), table(LEDGER, 1)
        starts = table(START, 5)
        events, record = table(EVENT, len(EVENT_KINDS)), table(RECORD, len(trace.step_s))
        ended = march_one(car[0], day[0], central_draw()[0], path, state[0], ledger[0], events, table(START, 0), record)
        yield [
            ended,
            *ledger[0].tolist(),
            *state[0].tolist(),
            *events.run_s.tolist(),
            *starts.fuel_j.tolist(),
            *record.terminal_w.tolist(),
        ]
        car.capacity_c /= 300  # soon empty
        state, ledgers = start_state(Start(0.9), car[0], day[0]), table(LEDGER, LEDGER_ROWS)
        twice = table(EVENT, 2 * len(EVENT_KINDS)).reshape(2, -1)
        done = drive_to_empty(
            car[0], day[0], central_draw()[0], path, state[0], ledgers, flat_view(ledgers), twice[0], twice[1],
            table(START, 0), table(RECORD, 0), True,
        )  # fmt: skip
        yield [*done, *ledgers[1].tolist(), *state[0].tolist()]
        charger = charger_row(filled.vehicle, filled.circuit, values["charger_conversion"], values["charger_fixed_w"])
        yield sessions(car, central_draw(), charger, 0.2, 0.4, kelvin, kelvin)[0].tolist()


if __name__ == "__main__":
    print(json.dumps([[float(value) for value in np.ravel(row)] for row in drives()]))
