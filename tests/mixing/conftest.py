"""Laws are tried on many drinks: how long one of them takes on a busy machine is no part of the law."""

from hypothesis import settings

settings.register_profile("laws", deadline=None)
settings.load_profile("laws")
