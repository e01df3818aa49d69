"""Turnspit: an assistant for the cook who roasts whole birds on a spit."""

import os

# The forecasts multiply small matrices, where a second thread only spins: half the
# processor time of an update, measured by tests.benchmarks.foresight_cost.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
