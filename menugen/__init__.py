"""menugen: a mobile bar's specs, stock and events, as plain text, become a published drinks menu."""

__version__ = "0.1.0"
