"""For all tests: how fast a machine is says nothing about whether a claim holds."""

from hypothesis import settings

settings.register_profile("no clock", deadline=None)
settings.load_profile("no clock")
