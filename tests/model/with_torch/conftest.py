"""Tests of what trains the model. PyTorch takes 2 GB and is no dependency: without it nothing here is collected."""

import importlib.util

collect_ignore_glob = ["*"] if importlib.util.find_spec("torch") is None else []
