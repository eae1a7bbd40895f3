"""From the wall to the cells: circuit, onboard charger, charging session."""

from service.charging.onboard import CHARGER, charger_row, charger_rows, station_row
from service.charging.session import CURVE, SESSION, recorded_session, sessions

__all__ = [
    "CHARGER",
    "CURVE",
    "SESSION",
    "charger_row",
    "charger_rows",
    "recorded_session",
    "sessions",
    "station_row",
]
