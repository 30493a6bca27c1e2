"""The manual's page of checks, made from the checks' own files.

`python -m plumbing.report.checks_page` prints it.
"""

import sys

from plumbing.checks.kit import Check
from plumbing.checks.registry import SUBJECTS, checks

HEAD = """# The checks

{count} checks, by subject. This page is made from the checks themselves:
`python -m plumbing.report.checks_page` prints it, and `plumbing explain NAME` shows one.

**unsafe**: do not put fuel in. **fault**: fix before drilling or flight. **advice**: worth doing.
A check that lacks data is *unchecked*, never passed. Each check's two fragments are laid over a
starter (`plumbing new`) by a test: the first must be found, the second must not.
"""


def page() -> str:
    """The whole page as Markdown."""
    found = checks()
    blocks = [HEAD.format(count=len(found))]
    groups = {subject: [one for one in found if one.subject == subject] for subject in SUBJECTS}
    blocks += [_index(subject, group) for subject, group in groups.items()]
    for subject, group in groups.items():
        blocks.append(f"## {subject.capitalize()}\n")
        blocks += [_section(check) for check in group]
    return "\n".join(blocks)


def _index(subject: str, group: list[Check]) -> str:
    names = ", ".join(f"[{check.name}](#{check.name})" for check in group)
    return f"**{subject.capitalize()}** ({len(group)}): {names}\n"


def _section(check: Check) -> str:
    lines = [f"### {check.name}", "", f"*{check.severity.value}.* {_plain(check.title)}", ""]
    lines += [f"- **Why** {_plain(check.why)}", f"- **Cure** {_plain(check.cure)}"]
    lines.append(f"- **Rule** {_plain(check.source)}")
    if check.limit is not None:
        lines.append(f"- **Limit** `limits: {{{check.name}: {check.limit.text}}}` sets another")
    for words, fragment in (("Found in", check.bad), ("Not found in", check.good)):
        lines += ["", f"{words} the starter `{check.starter}` with", ""]
        lines += ["```yaml", fragment.rstrip("\n"), "```"]
    return "\n".join([*lines, ""])


def _plain(text: str) -> str:
    """Text that Markdown leaves as it is."""
    return text.replace("*", "\\*").replace("<", "&lt;").replace("_", "\\_")


if __name__ == "__main__":
    sys.stdout.write(page())
