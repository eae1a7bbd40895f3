"""Where data/ lies: inside the package once installed, beside it in a checkout."""

from pathlib import Path

from service.errors import BadTable

__all__ = ["data_folder"]

PACKAGE = Path(__file__).resolve().parent.parent
MARK = "vehicles.csv"  # a folder without it is some other folder named data


def data_folder(package: Path = PACKAGE) -> Path:
    """The folder of the tables.

    Args:
        package: folder of the package `service`.
    Raises: BadTable if neither place holds the tables.
    """
    for folder in (package / "data", package.parent / "data"):
        if (folder / MARK).is_file():
            return folder
    raise BadTable("data", "the folder of the tables is neither inside the package nor beside it")
