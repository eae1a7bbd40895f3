"""GPX 1.1: the points of its tracks, by the careful parser.

Scope    `trkpt` with `lat`, `lon`, and `ele` and `time` below it, in document order over all tracks and segments; GPX
         1.0 files have the same. Routes and waypoints are no drives and are passed over.
Bounds   bytes and points; document types, entities and external references are refused before anything is expanded.
Source   the GPX 1.1 schema (topografix.com/GPX/1/1); defusedxml.
"""

from dataclasses import dataclass

from defusedxml import DefusedXmlException
from defusedxml.ElementTree import ParseError, fromstring

from service.errors import BadInput, BadInputs

__all__ = ["GpxPoint", "gpx_points", "is_gpx"]

STARTS_OF_XML = (b"<", b"\xef\xbb\xbf<", b"\xff\xfe<\0", b"\xfe\xff\0<")
REMEDY = "save the recording as GPX 1.1, or as CSV with time, lat, lon"


@dataclass(frozen=True, slots=True)
class GpxPoint:
    """A point as written; "" for what it lacks."""

    lat: str
    lon: str
    ele: str
    time: str
    stretch: int = 0  # which segment of which track, counted through the file


def is_gpx(content: bytes) -> bool:
    """True for anything that starts as XML does."""
    return content.lstrip(b" \t\r\n").startswith(STARTS_OF_XML)


def gpx_points(content: bytes, most: int) -> list[GpxPoint]:
    """The points of a file.

    Errors: `BadInputs` for what is no XML, no GPX, without a track, dangerous, or of more than `most` points.
    """
    try:
        root = fromstring(content, forbid_dtd=True)
    except DefusedXmlException:
        message = "the file defines a document type or entities, which GPX does not need and we do not read"
        raise BadInputs([BadInput("track", None, message, "save it without a DOCTYPE")]) from None
    except (ParseError, ValueError, LookupError, RecursionError) as error:
        where = getattr(error, "position", None)
        place = f"line {where[0]}" if where else "track"
        message = "the file is not well-formed XML from here on" if where else "the file cannot be read as XML"
        raise BadInputs([BadInput(place, None, message, REMEDY)]) from None
    if _local(root.tag) != "gpx":
        raise BadInputs([BadInput("track", _local(root.tag)[:80], "the file is XML, but not GPX", REMEDY)])
    points, stretch = [], 0
    for element in root.iter():
        stretch += _local(element.tag) in ("trk", "trkseg")
        if _local(element.tag) == "trkpt":
            points.append(_point(element, stretch))
            if len(points) > most:
                message, remedy = f"there are more than {most} points", f"give at most {most}, or cut the recording"
                raise BadInputs([BadInput("track", None, message, remedy)])
    if not points:
        message = "the file holds no track points; routes and waypoints have no times to drive by"
        raise BadInputs([BadInput("track", None, message, "give a recorded track (trk, trkseg, trkpt)")])
    return points


def _point(element, stretch: int) -> GpxPoint:
    below = {_local(child.tag): (child.text or "").strip() for child in element}
    place = (element.get(name, "").strip() for name in ("lat", "lon"))
    return GpxPoint(*place, below.get("ele", ""), below.get("time", ""), stretch)


def _local(tag: object) -> str:
    """A name without its namespace; comments and instructions have none.

    >>> _local("{http://www.topografix.com/GPX/1/1}trkpt")
    'trkpt'
    """
    return tag.rpartition("}")[2] if isinstance(tag, str) else ""
