"""Documents for guests, and the one way files reach the disk.

Comes in: a GuestMenu and a Theme. Goes out: bytes by path (site, table menu, cards), then a folder, swapped
in whole. Knows nothing of: specs, stock, prices paid, bar notes; nothing of clocks, locales or networks.

What stands for a library (fonts, photos, templates, HTML) is imported from its module, so that a command loads only
what it needs: `site.lay_site`, `theme.load_theme`, `output_folder.output_folder`, `private.LeakCheck`.
"""

from menugen.writing.faults import NotOurs, PublishFault
from menugen.writing.output import MARKER, Folder, Memory, Output
from menugen.writing.theme_fault import ThemeFault

__all__ = ["MARKER", "Folder", "Memory", "NotOurs", "Output", "PublishFault", "ThemeFault"]
