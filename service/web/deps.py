"""What routes are given: the catalogue and the settings that the application holds.

Coroutines, so that no thread is taken for a look-up.
"""

from typing import Annotated

from fastapi import Depends, Request

from service.catalogue import Catalogue
from service.web.settings import Settings

__all__ = ["CatalogueDep", "SettingsDep"]


async def _catalogue(request: Request) -> Catalogue:
    return request.app.state.catalogue


async def _settings(request: Request) -> Settings:
    return request.app.state.settings


CatalogueDep = Annotated[Catalogue, Depends(_catalogue)]
SettingsDep = Annotated[Settings, Depends(_settings)]
