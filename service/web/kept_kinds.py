"""The kinds of answers that can be kept: a new one is a line here, and its `KIND` beside its page."""

from types import MappingProxyType

from service.web import (
    charging_pages,
    complaint_pages,
    envelope_pages,
    pages,
    plan_pages,
    routes_pages,
    speeds_pages,
    year_pages,
)

__all__ = ["KINDS"]

KINDS = MappingProxyType(
    {
        module.KIND.name: module.KIND
        for module in (
            pages,
            year_pages,
            speeds_pages,
            charging_pages,
            plan_pages,
            routes_pages,
            complaint_pages,
            envelope_pages,
        )
    }
)
