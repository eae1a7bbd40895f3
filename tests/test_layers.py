"""The house's rules of import, and that physics only computes."""

import ast
import subprocess
import sys
import sysconfig
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
PHYSICS = sorted((ROOT / "service" / "physics").glob("*.py"))


def test_rooms_import_downwards_only(tmp_path):
    pytest.importorskip("importlinter", reason="import-linter is not installed")
    command = Path(sysconfig.get_path("scripts")) / "lint-imports"
    done = subprocess.run(
        [command, "--config", ROOT / "pyproject.toml", "--cache-dir", tmp_path],
        cwd=ROOT, capture_output=True, text=True, timeout=120, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stdout + done.stderr
    assert "3 kept, 0 broken" in done.stdout


def names_used(path):
    tree = ast.parse(path.read_text("utf-8"))
    imported = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            imported |= {alias.name.split(".")[0] for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            imported.add(node.module.split(".")[0])
    called = {node.func.id for node in ast.walk(tree) if isinstance(node, ast.Call) and isinstance(node.func, ast.Name)}
    return imported, called


@pytest.mark.parametrize("path", PHYSICS, ids=lambda path: path.stem)
def test_physics_only_computes(path):
    imported, called = names_used(path)
    assert imported <= {"math", "numpy", "numba", "service", "collections", "dataclasses", "types"}
    assert called.isdisjoint({"open", "print", "input", "exec", "eval"})


def test_physics_knows_no_catalogue():
    code = "import service.physics.march, service.physics.tables, service.physics.laps, sys; print(*sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    loaded = set(done.stdout.split())
    assert "service.physics.march" in loaded
    assert loaded.isdisjoint(
        {"service.catalogue", "service.quotes", "fastapi", "pydantic", "jinja2", "scipy.integrate"}
    )


def test_quotes_load_without_the_web():
    code = "import service.quotes.build, sys; print(*sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    assert set(done.stdout.split()).isdisjoint(
        {"fastapi", "starlette", "pydantic", "jinja2", "service.intake", "scipy.integrate"}
    )
