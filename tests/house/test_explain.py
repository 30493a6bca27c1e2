"""`plumbing explain` beyond checks, and the names the shell offers."""

import click
import pytest
from click.shell_completion import ShellComplete

from plumbing import api
from plumbing.cli import COMMANDS, main
from plumbing.layout.known import TITLES, known
from plumbing.physics.tables import rows

FREE = {"stock", "day", "scheduler", "engine", "tanks"}  # values nobody has a list of
FREE |= {"filled", "left", "header_air", "volts", "duty", "time", "temperature", "by", "remarks"}


def offered(arguments, incomplete=""):
    """What the shell offers after some words."""
    shell = ShellComplete(main, {}, "plumbing", "_PLUMBING_COMPLETE")
    return {one.value for one in shell.get_completions([*map(str, arguments)], incomplete)}


@pytest.mark.parametrize("name", TITLES)
def test_every_list_can_be_read(called, name):
    """A list has all its entries and their sources, within 80 columns."""
    done = called("explain", name)
    assert done.exit_code == 0
    assert max(map(len, done.output.splitlines())) <= 80
    flat = " ".join(done.output.split())
    for one in known()[name]:
        assert one.name in flat or one.name[:8] in flat
        assert " ".join(one.source.split()) in flat
    assert done.output.count("\n") > len(known()[name])


def test_lists_and_titles_are_of_the_same_names():
    """No list is without a title, no title without a list."""
    assert list(TITLES) == list(known())


@pytest.mark.parametrize("table", ["tubes", "materials", "fittings", "fuels"])
def test_lists_have_every_row_of_the_tables(table):
    """Nothing that a layout may name is missing."""
    assert [one.name for one in known()[table]] == [row["name"] for row in rows(table)]


def test_an_entry_has_its_values_and_its_source(called):
    """The tube 6x4 is 6 mm outside and has a bore of 4 mm: that is what its name says."""
    text = called("explain", "polyurethane", "6x4").output
    assert [line.split()[1:] for line in text.splitlines() if line.startswith(("outside", "bore"))]
    assert "outside             6 mm" in text
    assert "bore                4 mm" in text
    assert "source" in text


def test_a_material_leads_to_its_tubes(called):
    """Asked for a material, it says how it stands kerosene and which tubes are of it."""
    text = called("explain", "Polyurethane").output
    assert "in kerosene" in text
    assert "polyurethane 6x4" in text


def test_a_word_lists_what_has_it(called):
    """`vent` is no check's name: those that are about vents are listed, and keys."""
    text = called("explain", "vent").output
    assert "second-open-vent" in text
    assert "tanks.fixing.bay-vented" in text
    assert "prevent" not in text


def test_usual_values_of_the_model_are_listed():
    """What the model assumes stands in the list with its source."""
    usual = {one.name: one for one in known()["usual"]}
    assert usual["fuel.oil"].values["usual"] == "5 %"
    assert all(one.source for one in usual.values())


def test_what_nobody_knows_has_the_nearest_name(call):
    """A slip in a word is answered with the word."""
    done = call("explain", "polyurethene")
    assert done.exit_code == 2
    assert "did you mean `polyurethane" in done.stderr
    assert call("explain", "zzz").exit_code == 2


def test_the_shell_offers_names_of_the_program():
    """Checks, lists, tubes and materials; starters."""
    assert {"second-open-vent", "tubes", "PTFE 6x4", "PTFE"} <= offered(["explain"])
    assert offered(["explain"], "second-open") == {"second-open-vent"}
    assert "twin-engine" in offered(["new"])
    assert offered(["remedy", "mine.yaml"], "second-open") == {"second-open-vent"}


@pytest.mark.parametrize(
    ("command", "option", "names"),
    [
        ("tilt", "--tank", {"main", "header"}),
        ("fly", "--flight", {"sport"}),
        ("faults", "--flight", {"sport"}),
        ("fill", "--port", {"fill"}),
        ("template", "--former", {"F2", "F3", "F4"}),
    ],
)
def test_the_shell_offers_names_of_the_layout(root, command, option, names):
    """Parts of the file on the command line; nothing without a file, and no trace."""
    layout = root / "layouts" / "single-main.yaml"
    assert offered([command, layout, option]) == names
    assert offered([command, root / "no-such.yaml", option]) == set()
    assert offered([command, option]) == set()


def test_every_argument_that_takes_a_name_is_completed():
    """A new argument of plain text either has a list or is named here as free."""
    plain = set()
    for name in COMMANDS:
        for one in main.get_command(click.Context(main), name).params:
            if one.type is click.STRING and one._custom_shell_complete is None:
                plain.add(one.name)
    assert plain <= FREE


def test_a_file_with_faults_still_offers_names(tmp_path):
    """Completion reads what is there, not what is right."""
    path = tmp_path / "half.yaml"
    path.write_text("format: 2\ntanks: {left wing: {}, main: }\nlines: []\n")
    assert api.names_in(path, "tanks") == ("left wing", "main")
    assert api.names_in(path, "lines") == ()
