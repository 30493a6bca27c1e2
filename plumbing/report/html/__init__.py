"""The report as one self-contained page: no network, no script needed to read it."""

from plumbing.report.html.page import faults_page, html_page

__all__ = ["faults_page", "html_page"]
