"""For all tests: how fast a machine is says nothing about whether a claim holds, and what is
tried is the same on every machine; `pytest --hypothesis-profile=elsewhere` tries other examples."""

from hypothesis import settings

settings.register_profile("elsewhere", deadline=None)
settings.register_profile("no clock", deadline=None, derandomize=True)
settings.load_profile("no clock")
