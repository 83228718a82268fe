"""The rules of accessibility that axe reads a page by: WCAG 2.2 A and AA, and good practice."""

from pathlib import Path
from typing import Any

import axe_playwright_python

_AXE = Path(axe_playwright_python.__file__).with_name("axe.min.js").read_text("utf-8")

ALL = {
    "runOnly": {
        "type": "tag",
        "values": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
    }
}
"""These hold every rule that axe runs by itself, and the size of targets."""

OF_COLOURS = {"runOnly": {"type": "rule", "values": ["color-contrast", "link-in-text-block", "target-size"]}}
"""What can differ between the light and the dark of a page: the rest is of its text and its structure."""

# What passed is only counted: its selectors are most of the rest, and most of what it hands over.
_RUN = """options => axe.run(document, {...options, resultTypes: ['violations']}).then(found => [
    found.passes.length,
    found.violations.flatMap(rule => rule.nodes.map(node => [rule.id, node.target.join(' '), node.failureSummary])),
])"""


def axe_finds(page: Any, rules: dict[str, object] = ALL) -> list[tuple[str, str, str]]:
    """Return what axe finds wrong with the page as it stands: rule, element, why. The page must let scripts in."""
    if not page.evaluate("'axe' in window"):
        page.evaluate(_AXE)
    passed, found = page.evaluate(_RUN, rules)
    assert passed, "axe looked at nothing"
    return [tuple(finding) for finding in found]
