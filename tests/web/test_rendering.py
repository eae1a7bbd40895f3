"""Templates: found in a checkout and in an installed package, escaping, strict."""

import pytest
from jinja2 import UndefinedError

from service.web.rendering import template_environment, templates_folder


def test_the_installed_folder_comes_before_the_one_beside_the_package(tmp_path):
    package = tmp_path / "service"
    beside = tmp_path / "templates"
    for folder in (beside, package / "templates"):
        folder.mkdir(parents=True)
        assert templates_folder_or_none(package) != folder  # empty: some other folder of that name
        (folder / "page.html").write_text("", "utf-8")
        assert templates_folder(package) == folder


def templates_folder_or_none(package):
    try:
        return templates_folder(package)
    except FileNotFoundError:
        return None


def test_text_is_escaped_and_a_missing_name_is_an_error():
    environment = template_environment()
    assert environment.from_string("{{ text }}").render(text="<b>") == "&lt;b&gt;"
    with pytest.raises(UndefinedError):
        environment.from_string("{{ nothing.there }}").render()


def test_no_template_carries_a_style_or_a_script_of_its_own():
    # the content policy would refuse them
    for template in templates_folder().glob("*.html"):
        text = template.read_text("utf-8")
        assert "<style" not in text
        assert " style=" not in text
        assert " onclick=" not in text
        assert text.count("<script") == text.count('<script type="module" src="/static/')
