"""Declarations of the layout file: said yes, said no, or not said at all."""

from plumbing.checks.kit import Found, Lacking, Says


def declared(said: bool | None, missing: str, fault: Found) -> Says:
    """Pass a declaration made, report one denied, and leave one not made unchecked.

    Parameters
    ----------
    said : bool or None
        The declaration; None where the file says nothing.
    missing : str
        Its key path, such as `papers.tests-recorded`.
    fault : Found
        What to report where it is denied.
    """
    if said is None:
        yield Lacking(missing, fault.part)
    elif not said:
        yield fault
