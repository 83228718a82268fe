"""Documents for guests, and the one way files reach the disk.

Comes in: a GuestMenu and a Theme. Goes out: bytes by path (site, table menu, cards), then a folder, swapped
in whole. Knows nothing of: specs, stock, prices paid, bar notes; nothing of clocks, locales or networks.

Import from the modules themselves, so that a command loads only the libraries it needs:
`site.lay_site`, `theme.load_theme`, `theme.theme_names`, `publish.output_folder`, `private.LeakCheck`.
"""
