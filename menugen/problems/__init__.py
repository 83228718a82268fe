"""What the user should change, as values, and how a problem is drawn in a terminal or as JSON.

Comes in: faults found by any stage, each with its place. Goes out: text and JSON.
Knows nothing of: specs, menus, or how a file is parsed.
"""

from menugen.problems.drawing import Sources, cells, draw_json, draw_text, summary, visible
from menugen.problems.near import did_you_mean, near
from menugen.problems.own_fault import DETAILS, own_fault
from menugen.problems.problem import Place, Problem, Severity, Span, error, warning

__all__ = [
    "DETAILS",
    "Place",
    "Problem",
    "Severity",
    "Sources",
    "Span",
    "cells",
    "did_you_mean",
    "draw_json",
    "draw_text",
    "error",
    "near",
    "own_fault",
    "summary",
    "visible",
    "warning",
]
