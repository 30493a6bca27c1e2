"""Declarations of the layout file: said yes, said no, or not said at all; and statements."""

from dataclasses import replace

from plumbing.checks.kit import Found, Lacking, Open, Says
from plumbing.model.statement import Statement


def declared(said: bool | Statement | None, path: str, fault: Found) -> Says:
    """Pass a declaration made, report one denied, and leave one not made unchecked.

    Parameters
    ----------
    said : bool, Statement or None
        The declaration; None where the file says nothing. A statement that does not hold is
        reported too, from its stage on.
    path : str
        Its key path, such as `papers.tests-recorded`.
    fault : Found
        What to report where it is denied.
    """
    if isinstance(said, Statement):
        if not said.holds:
            yield replace(fault, open=Open(path, said))
    elif said is None:
        yield Lacking(path, fault.part)
    elif not said:
        yield fault
