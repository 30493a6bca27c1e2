"""The layout as a graph, and every question the graph alone answers.

`survey(layout)` gathers all answers as plain frozen values of names and numbers.
"""

from plumbing.network.build import Network, build
from plumbing.network.roles import Condition, Flow, PartKind, Role
from plumbing.network.survey import Survey, survey

__all__ = ["Condition", "Flow", "Network", "PartKind", "Role", "Survey", "build", "survey"]
