"""What the user should change, as values, and how a problem is drawn in a terminal or as JSON.

Comes in: faults found by any stage, each with its place. Goes out: text and JSON.
Knows nothing of: specs, menus, or how a file is parsed.
"""

from menugen.problems.problem import Place, Problem, Severity, Span, error, warning

__all__ = ["Place", "Problem", "Severity", "Span", "error", "warning"]
