"""Write plain dicts as the text of a layout file."""


def mm(*values):
    """Lengths as a builder writes them; one alone, or a point."""
    texts = [f"{value:.4g} mm" for value in values]
    return texts[0] if len(texts) == 1 else texts


def written(layout):
    """Text of a layout: sections as blocks, their entries in braces."""
    rows = []
    for section, content in layout.items():
        if not isinstance(content, dict) or section in ("aircraft", "fuel", "tolerances"):
            rows.append(f"{section}: {_flow(content)}")
            continue
        if content:
            rows.append(f"{section}:")
            rows += [f"  {name}: {_flow(entry)}" for name, entry in content.items()]
    return "\n".join(rows) + "\n"


def _flow(value):
    if isinstance(value, dict):
        return "{" + ", ".join(f"{key}: {_flow(entry)}" for key, entry in value.items()) + "}"
    if isinstance(value, list | tuple):
        return "[" + ", ".join(_flow(entry) for entry in value) + "]"
    return str(value)
