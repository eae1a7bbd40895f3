"""The template environment: strict, escaping, compiled once at start.

Templates lie inside the package once installed, beside it in a checkout.
"""

from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from service.reporting.cautions import PAGE_CAUTIONS

__all__ = ["template_environment", "templates_folder"]

PACKAGE = Path(__file__).resolve().parent.parent
MARK = "page.html"  # a folder without it is some other folder named templates


def templates_folder(package: Path = PACKAGE) -> Path:
    """The folder of the templates.

    Raises: FileNotFoundError if it lies neither inside the package nor beside it.
    """
    for folder in (package / "templates", package.parent / "templates"):
        if (folder / MARK).is_file():
            return folder
    raise FileNotFoundError("the folder of the templates is neither inside the package nor beside it")


def template_environment() -> Environment:
    """An environment with every template compiled, so that the first page is as fast as the next."""
    environment = Environment(
        loader=FileSystemLoader(templates_folder()),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=False,
    )
    environment.globals["cautions"] = PAGE_CAUTIONS
    for name in environment.list_templates(extensions=["html"]):
        environment.get_template(name)
    return environment
