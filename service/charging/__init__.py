"""From the wall to the cells: circuit, onboard charger, charging session."""

from service.charging.onboard import CHARGER, charger_row, weakest_link
from service.charging.session import SESSION, sessions

__all__ = ["CHARGER", "SESSION", "charger_row", "sessions", "weakest_link"]
