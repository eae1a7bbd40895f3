"""What is said wherever charging circuits appear, on pages, on paper and in JSON, in our own words.

Scope    estimates, and work on circuits. Nothing here calls a limit harmless: whoever stands at the wall decides.
Source   common practice in advice to owners; NEC 625.40 and 400.12 (dedicated circuit, no cords for fixed wiring).
"""

__all__ = ["CIRCUIT_CAUTIONS", "ESTIMATE_CAUTION", "PAGE_CAUTIONS"]

ESTIMATE_CAUTION = "Estimates only: traffic, driving and weather decide the day."
CIRCUIT_CAUTIONS = (
    "Circuit work by a licensed electrician, to the local code.",
    "Charge from a dedicated circuit: the load lasts for hours.",
    "No extension leads, no multi-socket leads, no daisy chains.",
    "Stop if the plug or socket is hot, and have it checked.",
    "High voltage: qualified people only. See the car’s handbook.",
)
PAGE_CAUTIONS = (ESTIMATE_CAUTION, *CIRCUIT_CAUTIONS)
