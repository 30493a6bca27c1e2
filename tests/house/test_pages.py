"""Pages made from the program are as the program would make them today."""

import re

import pytest

PAGES = {
    "docs/checks.md": ["-m", "plumbing.report.checks_page"],
    "docs/dependencies.md": ["-m", "tests.dependencies", "--print"],
    "docs/layout-file.md": ["-m", "plumbing.layout.reference"],
    "docs/sources.md": ["-m", "tests.sources", "--print"],
    "docs/verification.md": ["-m", "tests.verification", "--print"],
}


@pytest.mark.quick("checks", "dependencies", "layout-file", "sources")
@pytest.mark.parametrize("page", PAGES)
def test_page_is_fresh(fresh, root, page):
    """The committed page equals a fresh one."""
    done = fresh(*PAGES[page])
    assert done.returncode == 0, done.stderr
    command = "python " + " ".join(PAGES[page]).replace(" --print", "")
    redirect = "" if "--print" in PAGES[page] else f" > {page}"
    kept = (root / page).read_text(encoding="utf-8")
    assert kept == done.stdout, f"{page} is stale; run: {command}{redirect}"


def _targets(text):
    return re.findall(r"\]\(([^)#\s]+)?(?:#[^)]*)?\)", text)


def test_links_lead_somewhere(root):
    """Every relative link of every page leads to a file that is there."""
    pages = [root / "README.md", root / "DEVELOPERS.md", *sorted((root / "docs").glob("*.md"))]
    broken = [
        f"{page.name}: {target}"
        for page in pages
        for target in _targets(page.read_text(encoding="utf-8"))
        if target and not re.match(r"https?:", target) and not (page.parent / target).exists()
    ]
    assert broken == []


def test_anchors_lead_somewhere(root):
    """Every link within a page leads to one of its headings."""
    for page in sorted((root / "docs").glob("*.md")):
        text = page.read_text(encoding="utf-8")
        heads = {
            re.sub(r"[^\w\- ]", "", head.lower()).strip().replace(" ", "-")
            for head in re.findall(r"^#+ (.+)$", text, re.MULTILINE)
        }
        wanted = set(re.findall(r"\]\(#([^)]+)\)", text))
        assert wanted <= heads, (page.name, wanted - heads)


def test_pages_carry_no_machine_paths(root):
    """Nothing in the manual depends on the machine it was made on."""
    for page in [root / "README.md", root / "DEVELOPERS.md", *(root / "docs").glob("*.md")]:
        assert str(root) not in page.read_text(encoding="utf-8"), page.name
