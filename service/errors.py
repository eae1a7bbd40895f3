"""What can go wrong, as one small tree. Every message names the field, the value and the way out.

ServiceError
├── BadInput         a value cannot be used
│   ├── OutOfRange   a number outside its legal range
│   └── UnknownEntry no catalogue entry of that id
├── BadInputs        several of them at once
└── BadTable         a file of data/ is broken: a fault of the installation, not of the person asking
"""

from collections.abc import Iterable
from dataclasses import dataclass
from difflib import get_close_matches


@dataclass(frozen=True, slots=True)
class ErrorRow:
    """One line of the error report, the same for form, JSON, CSV and command line."""

    field: str
    value: object
    message: str
    remedy: str


class ServiceError(Exception):
    """Base of everything raised on purpose."""

    def rows(self) -> list[ErrorRow]:
        """The report, a row a fault."""
        raise NotImplementedError


class BadInput(ServiceError):
    """One value that cannot be used.

    >>> BadInput("journey.legs", [], "there are no legs", "give at least one leg").rows()[0].remedy
    'give at least one leg'
    """

    def __init__(self, field: str, value: object, message: str, remedy: str) -> None:
        super().__init__(f"{field}: {message}; {remedy}")
        self.row = ErrorRow(field, value, message, remedy)

    def rows(self) -> list[ErrorRow]:
        """Just this one."""
        return [self.row]


class OutOfRange(BadInput):
    """A number outside its legal range."""

    def __init__(self, field: str, value: float, low: float, high: float, unit: str) -> None:
        super().__init__(
            field,
            value,
            f"{value:g} {unit} is outside {low:g} to {high:g} {unit}",
            f"give {low:g} to {high:g} {unit}",
        )


class UnknownEntry(BadInput):
    """An id that the catalogue does not hold."""

    def __init__(self, field: str, value: str, known: Iterable[str]) -> None:
        known = sorted(known)
        close = get_close_matches(value, known, n=1)
        remedy = f"did you mean {close[0]!r}?" if close else "choose one of: " + ", ".join(known[:12])
        super().__init__(field, value, f"there is no entry {value!r}", remedy)


class BadInputs(ServiceError):
    """Every bad value of one request at once."""

    def __init__(self, faults: Iterable[BadInput]) -> None:
        self.faults = list(faults)
        super().__init__("; ".join(str(fault) for fault in self.faults))

    def rows(self) -> list[ErrorRow]:
        """A row a fault."""
        return [row for fault in self.faults for row in fault.rows()]


class BadTable(ServiceError):
    """A file of data/ that does not hold what its description promises."""

    def __init__(self, file_name: str, message: str) -> None:
        super().__init__(f"{file_name}: {message}")
        self.file_name, self.message = file_name, message

    def rows(self) -> list[ErrorRow]:
        """The report for the operator."""
        return [ErrorRow(self.file_name, None, self.message, "reinstall the service or mend the table")]
