import shutil

import pytest

from service.catalogue import data_folder, load_catalogue


@pytest.fixture(scope="session")
def catalogue():
    return load_catalogue()


@pytest.fixture
def data_copy(tmp_path):
    """A copy of data/ that a test may break."""
    return shutil.copytree(data_folder(), tmp_path / "data")
