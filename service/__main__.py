"""`python -m service`: serve the pages and the JSON side, or answer one question from a file.

`hash-key` turns an access key into the text that may stand in its place in a file of settings.

Exit     0 all well · 2 the question or a setting cannot be used (the rows are on stderr, as JSON) · 1 anything else
"""

import argparse
import gc
import getpass
import json
import os
import sys
from collections.abc import Callable, Mapping, Sequence
from importlib.metadata import PackageNotFoundError, version

from service.errors import BadInput, ServiceError

__all__ = ["main"]

SETTING_FLAGS = {"host": "RANGEWRIGHT_HOST", "port": "RANGEWRIGHT_PORT", "workers": "RANGEWRIGHT_WORKERS"}


def main(arguments: Sequence[str] | None = None) -> int:
    """Run a command; its exit status."""
    options = _parser().parse_args(arguments)
    commands: dict[str | None, Callable[[argparse.Namespace], int]] = {"quote": _quote, "hash-key": _hash_key}
    run = commands.get(options.command, _serve)
    try:
        return run(options)
    except ServiceError as error:
        _print_errors(error)
        return 2


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="python -m service",
        description="How far a plug-in car goes on electricity alone, how long it takes to charge, and why.",
        epilog="Without a command it serves pages and JSON. Environment: RANGEWRIGHT_HOST, _PORT, _WORKERS, "
        "_PUBLIC_URL, _ACCESS_KEY, _OPEN, _DATABASE_FILE, _DATABASE_URL, _RATE, _PROXIES, "
        "_QUEUE, _LONGEST, _SENDING, _CACHE, _SECRET; the flags win.",
    )
    parser.add_argument("--version", action="version", version=f"rangewright {_version()}")
    parser.add_argument("--host", help="address to listen on (127.0.0.1: this machine only)")
    parser.add_argument("--port", help="port (8000); 0 takes any free one")
    parser.add_argument("--workers", help="processes (1)")
    commands = parser.add_subparsers(dest="command", metavar="command")
    quote = commands.add_parser("quote", help="answer the question in a JSON file and print the answer as JSON")
    quote.add_argument("file", help="a question as for POST /api/quotes; - reads standard input")
    commands.add_parser("hash-key", help="read an access key and print what may stand in its place in settings")
    return parser


def _version() -> str:
    """Of the installed package; of the sources where nothing is installed."""
    try:
        return version("rangewright")
    except PackageNotFoundError:
        from service.reporting.answers import MODEL_VERSION

        return MODEL_VERSION


def _serve(options: argparse.Namespace) -> int:
    gc.disable()  # nothing that a start builds is thrown away; the app turns it on again
    from service.web.server import serve
    from service.web.settings import Settings

    settings = Settings.from_environment(_with_flags(os.environ, options))
    return serve(settings)


def _with_flags(environment: Mapping[str, str], options: argparse.Namespace) -> dict[str, str]:
    """The environment, with what was given on the command line in place of it."""
    flags = {variable: getattr(options, flag) for flag, variable in SETTING_FLAGS.items()}
    return {**environment, **{variable: value for variable, value in flags.items() if value is not None}}


def _quote(options: argparse.Namespace) -> int:
    from service.catalogue import load_catalogue
    from service.intake.assumed import listed
    from service.intake.quote import read_request
    from service.quotes.build import build_quote
    from service.reporting.answers import QuoteOut
    from service.reporting.words import Units

    raw = _read_json(options.file)
    catalogue = load_catalogue()
    request = read_request(raw, catalogue)
    quote = build_quote(request.ask(catalogue), catalogue)
    print(QuoteOut.from_quote(listed(quote, request), Units(request.units)).model_dump_json(indent=2))
    return 0


def _hash_key(_options: argparse.Namespace) -> int:
    """The key from a prompt that does not show it, or from standard input."""
    from service.web.settings import Settings

    key = getpass.getpass("Access key: ") if sys.stdin.isatty() else sys.stdin.readline().strip()
    held = Settings.from_environment({"RANGEWRIGHT_ACCESS_KEY": key}).access_key
    if held is None:
        raise BadInput("RANGEWRIGHT_ACCESS_KEY", None, "no key was given", "type it, or send it on standard input")
    print(held.text)
    return 0


def _read_json(name: str) -> object:
    """Plain data from a file or standard input; raises BadInput."""
    from service.intake.json_text import read_json

    try:
        if name == "-":
            return read_json(sys.stdin.buffer.read())
        with open(name, "rb") as file:
            return read_json(file.read())
    except OSError as error:
        raise BadInput("file", name, f"it cannot be read: {error.strerror}", "give a JSON file, or -") from None


def _print_errors(error: ServiceError) -> None:
    from service.intake.errors import plain_row

    rows = [plain_row(row) for row in error.rows()]
    print(json.dumps({"errors": rows}, ensure_ascii=False, indent=2), file=sys.stderr)


if __name__ == "__main__":
    sys.exit(main())
