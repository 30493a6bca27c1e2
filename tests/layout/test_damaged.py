"""Demo layouts damaged in every way: always faults with lines, never anything else, and soon."""

import random
import re
import time

import pytest
from layout_samples import DEMOS

from plumbing.errors import LayoutError
from plumbing.layout import read

KEY = re.compile(r"[\w-]+(?=: )")
QUANTITY = re.compile(r"-?\d+(?:\.\d+)? (?:mm|kPa|ml/min|N|kg|g|s|%|degC|L/min|L|um|deg|V)\b")
TEXTS = {path.stem: path.read_text(encoding="utf-8") for path in DEMOS}


def at_random(pattern, text, dice):
    """One match outside comments and quotes."""
    found = [m for m in pattern.finditer(text) if not _hidden(text, m.start())]
    return dice.choice(found)


def _hidden(text, place):
    line = text[text.rfind("\n", 0, place) + 1 : place]
    return "#" in line or '"' in line or line.startswith(("title", "origin", "notes"))


def put(text, match, words):
    """Text with a match replaced."""
    return text[: match.start()] + words + text[match.end() :]


def misspelt(text, dice):
    """Misspell a key."""
    match = at_random(KEY, text, dice)
    return put(text, match, match[0] + "qq" if dice.random() < 0.5 else "zz" + match[0][1:])


def quantity(words):
    """Put other words in the place of a quantity."""

    def damage(text, dice):
        return put(text, at_random(QUANTITY, text, dice), words)

    return damage


def unitless(text, dice):
    """Take the unit from a quantity."""
    match = at_random(QUANTITY, text, dice)
    return put(text, match, match[0].split(" ")[0])


def key_removed(text, dice):
    """Remove a key that is needed."""
    match = at_random(re.compile(r"(?<=\{)(from|station): [^,{}\[\]]*, "), text, dice)
    return put(text, match, "")


def section_removed(text, dice):
    """Remove a section that is needed."""
    name = dice.choice(["engines", "tanks", "lines"])
    return re.sub(rf"^{name}:\n(?:[ #].*\n|\n)*", "", text, flags=re.M)


def line_twice(text, dice):
    """Write a key twice."""
    rows = text.splitlines(keepends=True)
    tops = [n for n, row in enumerate(rows) if re.match(r"[a-z-]+: ", row) and "{" not in row]
    number = dice.choice(tops)
    return "".join([*rows[: number + 1], rows[number], *rows[number + 1 :]])


def inserted(words):
    """Write something before a key."""

    def damage(text, dice):
        match = at_random(KEY, text, dice)
        return text[: match.start()] + words + text[match.start() :]

    return damage


def tabbed(text, dice):
    """Indent a line by a tab."""
    return put(text, dice.choice(list(re.finditer(r"(?<=\n)  (?=[a-z][\w -]*:\n)", text))), "\t")


def cut_short(text, dice):
    """End the file inside a brace."""
    opened = [m.end() for m in re.finditer(r"\{", text)]
    return text[: dice.choice(opened)]


def wrong_reference(text, dice):
    """Let a line end nowhere."""
    match = at_random(re.compile(r"(?<=from: )[^,]+|(?<=, to: )[^,]+"), text, dice)
    return put(text, match, dice.choice(["nowhere", "main.nothing", "..", "<script>", "x" * 500]))


def deep(text, dice):
    """Add very deep nesting."""
    return text + "zones: " + "{a: " * 40 + "1" + "}" * 40 + "\n"


def bomb(text, dice):
    """Add aliases that would unfold to a billion."""
    rows = ["a0: &a0 [x, x]"] + [f"a{k}: &a{k} [*a{k - 1}, *a{k - 1}]" for k in range(1, 30)]
    return text + "\n".join(rows) + "\n"


def cycle(text, dice):
    """Add a mapping that holds itself."""
    return text + "zones: &z {a: *z}\n"


def huge(text, dice):
    """Make the file 10 MB."""
    return text + "# padding\n" * 1_000_000


def wide(text, dice):
    """Add hundreds of faults."""
    return text + "zones: {" + ", ".join(f"z{k}: 1" for k in range(400)) + "}\n"


def wrong_type(text, dice):
    """Put a number in the place of a section."""
    name = dice.choice(["tanks", "lines", "engines", "flights", "aircraft", "fuel"])
    return re.sub(rf"^{name}:(?:.*\n)(?:[ #].*\n|\n)*", f"{name}: 7\n", text, flags=re.M)


DAMAGES = {
    "misspelt": misspelt,
    "unitless": unitless,
    "wrong unit": quantity("7 candela"),
    "nan": quantity("nan mm"),
    "infinite": quantity(".inf"),
    "huge number": quantity("1e300 mm"),
    "too many digits": quantity("9" * 400 + " mm"),
    "power tower": quantity("1 m**9**9**9**9"),
    "list": quantity("[1, 2]"),
    "mapping": quantity("{a: b}"),
    "nothing": quantity("~"),
    "key removed": key_removed,
    "section removed": section_removed,
    "twice": line_twice,
    "tab": tabbed,
    "zero byte": inserted("\0"),
    "direction": inserted("\u202e"),
    "emoji key": inserted("\U0001f6e9: 1, "),
    "brace": inserted("}"),
    "bracket": inserted("[["),
    "quote": inserted('"'),
    "tag": inserted("!!python/name:os.system "),
    "cut short": cut_short,
    "wrong reference": wrong_reference,
    "deep": deep,
    "bomb": bomb,
    "cycle": cycle,
    "10 MB": huge,
    "wide": wide,
    "wrong type": wrong_type,
}
CASES = [(damage, demo) for damage in DAMAGES for demo in TEXTS]


def test_enough_cases():
    """More than two hundred damaged files are tried."""
    assert len(CASES) >= 200


@pytest.mark.parametrize(("damage", "demo"), CASES)
def test_damaged(damage, demo):
    """A damaged layout is faults, each with a line of the file, within two seconds."""
    text = DAMAGES[damage](TEXTS[demo], random.Random(f"{damage} {demo}"))
    assert text != TEXTS[demo]
    start = time.process_time()
    with pytest.raises(LayoutError) as raised:
        read(text, "damaged.yaml")
    assert time.process_time() - start < 2.0
    assert raised.value.faults
    for fault in raised.value.faults:
        assert 1 <= fault.place.line <= text.count("\n") + 1
        assert fault.place.column >= 1
        assert fault.place.file == "damaged.yaml"
        assert fault.found
        assert fault.expected
        assert len(str(fault)) < 700
        assert not re.search("[\0-\x1f\u202a-\u202e]", str(fault))
