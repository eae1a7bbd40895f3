"""Routes whose plain functions are worked in the workroom, and whose answers to a question are kept.

Scope    a route class. A function that is not a coroutine runs in a thread of the workroom; its answer is written as
         JSON there, too, and kept if the catalogue and the question are all that it was given. A coroutine that has
         something to work out calls `at_work` itself, once its form or table has been read.
"""

from collections.abc import Callable, Coroutine, Mapping
from contextvars import ContextVar
from functools import wraps
from inspect import iscoroutinefunction
from typing import Any, TypeVar

from fastapi import Request, Response
from fastapi.routing import APIRoute
from pydantic import BaseModel

from service.catalogue import Catalogue
from service.web.kept_answers import KeptAnswer, key_of

__all__ = ["WorkRoute", "at_work"]

JSON = "application/json"
OWN_HEADERS = ("content-type", "content-length")  # made anew with each response
_request: ContextVar[Request] = ContextVar("request")
Result = TypeVar("Result")


async def at_work(work: Callable[..., Result], *given: object) -> Result:
    """`work(*given)` in the workroom of the application that serves this request."""
    return await _request.get().app.state.workroom.run(work, *given)


class WorkRoute(APIRoute):
    """A route that is worked in the workroom."""

    def __init__(self, path: str, endpoint: Callable[..., Any], **options: Any) -> None:
        super().__init__(path, endpoint if iscoroutinefunction(endpoint) else _at_work(endpoint), **options)

    def get_route_handler(self) -> Callable[[Request], Coroutine[Any, Any, Response]]:
        """The usual handler, which knows where it is."""
        handle = super().get_route_handler()

        async def placed(request: Request) -> Response:
            _request.set(request)
            return await handle(request)

        return placed


def _at_work(endpoint: Callable[..., Any]) -> Callable[..., Coroutine[Any, Any, Any]]:
    """The function as a coroutine that waits for its answer, kept or new."""

    @wraps(endpoint)
    async def worked(**given: Any) -> Any:
        request = _request.get()
        answers, key = request.app.state.kept_answers, _key(request.url.path, given)
        kept = answers.get(key) if key else None
        if kept is not None:
            return kept.response()

        def work() -> Any:
            answer = _written(endpoint(**given))
            if key and isinstance(answer, Response):
                answers.put(key, _to_keep(answer))
            return answer

        return await at_work(work)

    return worked


def _key(path: str, given: Mapping[str, object]) -> str | None:
    return key_of(path, {name: value for name, value in given.items() if not isinstance(value, Catalogue)})


def _written(answer: object) -> object:
    """A model as its JSON; other answers as they are."""
    return Response(answer.model_dump_json(), media_type=JSON) if isinstance(answer, BaseModel) else answer


def _to_keep(answer: Response) -> KeptAnswer:
    headers = tuple((name, value) for name, value in answer.headers.items() if name not in OWN_HEADERS)
    return KeptAnswer(bytes(answer.body), answer.media_type or JSON, headers)
