"""No result takes the place of an input, or of a file that somebody else wrote."""

import os
import shutil

import pypdf
import pytest

from plumbing import api
from plumbing.errors import UsageError

LOG = "time [s],throttle [%]\n" + "".join(f"{row},{50 + row % 2}\n" for row in range(400))
WRITERS = [
    ("draw", "-o", ".svg"),
    ("draw", "-o", ".png"),
    ("draw", "-o", ".pdf"),
    ("fly", "--csv", ".csv"),
    ("fly", "-o", ".svg"),
    ("tilt", "-o", ".svg"),
    ("schedule", "-o", ".csv"),
    ("draw", "-o", ".stl"),
    ("draw", "-o", ".glb"),
    ("template", "-o", ".pdf"),
    ("report", "-o", ".html"),
    ("report", "-o", ".pdf"),
    ("asbuilt", "--csv", ".csv"),
    ("asbuilt", "--write-form", ".csv"),
    ("logbook", "--write-form", ".csv"),
    ("logbook", "-o", ".svg"),
]


@pytest.fixture
def mine(root, tmp_path):
    """A layout of the user's own, with a logbook beside it."""
    logbook = "date,kind,filled,left,time\n"
    logbook += "".join(
        f"2026-05-0{day},flight,1000 ml,{500 + day} ml,4 min\n" for day in range(1, 6)
    )
    (tmp_path / "mine.logbook.csv").write_text(logbook)
    return shutil.copy(root / "layouts" / "single-main.yaml", tmp_path / "mine.yaml")


def refused(done, *words):
    """Assert that a call was refused in these words."""
    assert done.exit_code == 2, done.output
    assert all(word in done.output for word in words), done.output


@pytest.mark.parametrize(("command", "option", "ending"), WRITERS)
def test_layout_is_never_written_over(call, mine, command, option, ending):
    """A layout as output is refused by its ending, and through a link as an input, with --force."""
    before = mine.read_bytes()
    refused(call(command, mine, option, mine), "mine.yaml")
    link = mine.with_name(f"link{ending}")
    link.symlink_to(mine)
    refused(call(command, mine, option, link, "--force"), "is an input")
    assert mine.read_bytes() == before


@pytest.mark.quick("fly", "schedule", "draw--o-.svg")
@pytest.mark.parametrize(("command", "option", "ending"), WRITERS)
def test_only_own_files_are_replaced(call, mine, command, option, ending):
    """A stranger's file stays unless forced; an empty one and one of before are replaced."""
    target = mine.with_name(f"out{ending}")
    target.write_bytes(b"a stranger's\nfile\n")
    refused(call(command, mine, option, target), "--force")
    assert target.read_bytes() == b"a stranger's\nfile\n"
    assert call(command, mine, option, target, "--force").exit_code in (0, 1)
    written = target.read_bytes()
    assert len(written) > 30
    assert call(command, mine, option, target).exit_code in (0, 1)
    target.write_bytes(b"")
    assert call(command, mine, option, target).exit_code in (0, 1)
    assert target.read_bytes()[:30] == written[:30]


def test_schedules_into_a_folder_leave_all_files_where_one_is_a_strangers(call, mine):
    """Nothing of a folder is written where one of its files may not be."""
    folder = mine.with_name("lists")
    folder.mkdir()
    (folder / "cuts.csv").write_text("not,ours\n")
    refused(call("schedule", mine, "-o", folder), "cuts.csv")
    assert [one.name for one in folder.iterdir()] == ["cuts.csv"]
    assert (folder / "cuts.csv").read_text() == "not,ours\n"


def test_log_is_never_written_over(call, mine):
    """A log is an input, also where this program wrote it, is named by the layout, or is forced."""
    log = mine.with_name("f.csv")
    log.write_text(LOG)
    refused(call("fly", mine, "--log", log, "--csv", log), "is an input")
    assert log.read_text() == LOG
    assert call("fly", mine, "--csv", log, "--force").exit_code == 0
    history = log.read_bytes()
    named = "\nflights:\n  recorded: {log: {file: f.csv}}\n"
    mine.write_text(mine.read_text().replace("\nflights:\n", named))
    refused(call("fly", mine, "--csv", log, "--force"), "is an input")
    assert log.read_bytes() == history


def test_study_does_not_replace_its_layout_or_a_strangers_table(call, mine):
    """A layout named like a table is an input; a table with other columns is somebody else's."""
    layout = mine.rename(mine.with_name("layout.csv"))
    study = mine.with_name("study.yaml")
    study.write_text(
        "study: 1\nlayout: layout.csv\nresults: [suction]\n"
        "vary:\n  fuel.temperature.usual: [10 degC]\n"
    )
    before = layout.read_bytes()
    refused(call("study", study, "-o", layout, "--force"), "is an input")
    table = mine.with_name("table.csv")
    table.write_text("case,score\n1,2\n")
    refused(call("study", study, "-o", table), "--force")
    assert layout.read_bytes() == before
    assert table.read_text() == "case,score\n1,2\n"


def test_pipe_is_written_into_whatever_its_name(call, mine, tmp_path):
    """What is no file needs no ending and is nobody's."""
    assert call("fly", mine, "--csv", os.devnull).exit_code == 0


def test_digest_is_that_of_the_bytes_read(mine):
    """A file saved while a report is made does not change what the report says it is about."""
    loaded = api.load(mine)
    digest = loaded.digest
    mine.write_text(mine.read_text() + "\n# saved meanwhile\n")
    assert digest in api.report(loaded).decode()


def sized(root, folder):
    """A layout that sizing changes."""
    return shutil.copy(root / "layouts" / "bad.yaml", folder / "sized.yaml")


def test_apply_refuses_a_file_saved_meanwhile(call, mine, monkeypatch):
    """Tubes chosen for one text are not written into another."""
    size = api.size

    def slow(*arguments):
        found = size(*arguments)
        mine.write_text(mine.read_text() + "\n# saved meanwhile\n")
        return found

    monkeypatch.setattr(api, "size", slow)
    done = call("size", mine, "--apply")
    refused(done, "changed since it was read")
    assert mine.read_text().endswith("# saved meanwhile\n")


def test_text_is_put_only_where_the_old_one_still_stands(tmp_path):
    """Between the two looks at a file it may be saved too; and read-only is read-only, for root."""
    path = tmp_path / "a.yaml"
    path.write_text("new")
    with pytest.raises(UsageError, match="was changed"):
        api.rewrite(path, "old", "newer")
    path.chmod(0o444)
    with pytest.raises(UsageError, match="read-only"):
        api.rewrite(path, "new", "newer")
    assert path.read_text() == "new"


def test_formers_never_share_a_file(mine):
    """Formers whose names differ in signs, blanks or capitals only get a file each."""
    names = ["F 2", "F_2", "f-2", "F-2"]
    drilled = (
        "thickness: 3 mm, material: plywood, passages: {a: {at: [0 mm, 0 mm], diameter: 8 mm}}"
    )
    mine.write_text(mine.read_text().replace("\nformers:\n", "\nformers:\n" + "".join(
        f"  {name}: {{station: {100 + 10 * k} mm, {drilled}}}\n" for k, name in enumerate(names)
    )))  # fmt: skip
    made = api.templates(mine, "svg")
    assert len(made) == len(api.load(mine).formers)
    assert len({name.casefold() for name in made}) == len(made)
    for name in names:
        assert sum(f"{name}: drill template" in one.decode() for one in made.values()) == 1
    pages = len(pypdf.PdfReader(_file(mine, api.templates(mine, "pdf", whole=True)[""])).pages)
    assert pages == len(made)


def _file(beside, content):
    path = beside.with_name("made.pdf")
    path.write_bytes(content)
    return path


ESC = "\x1b]0;owned\x07\x9b31m\u202e"


@pytest.mark.parametrize(
    "arguments",
    [
        (f"chec{ESC}",),
        ("check", f"gone{ESC}.yaml"),
        ("check", "MINE", "--format", ESC),
        ("check", "MINE", f"--{ESC}"),
        ("explain", ESC),
        ("new", ESC),
        ("fly", "MINE", "--flight", ESC),
        ("fly", "MINE", "--log", "LOG"),
        ("fly", "MINE", "--csv", ESC),
        ("tilt", "MINE", "--tank", ESC),
        ("fill", "MINE", "--port", ESC),
        ("template", "MINE", "--former", ESC, "-o", "x.svg"),
        ("schedule", "MINE", "--stock", ESC),
        ("draw", "MINE", "-o", f"no/{ESC}.svg"),
        ("study", f"{ESC}.yaml", "-o", "x.csv"),
        ("spread", "MINE", "--error", ESC),
    ],
)
def test_no_terminal_obeys_what_a_user_wrote(call, mine, arguments):
    """Names of files, values of options and cells of logs are told without their commands."""
    log = mine.with_name("log.csv")
    log.write_text(LOG.replace("\n10,", f"\n10{ESC},"))
    stands = {"MINE": mine, "LOG": log}
    done = call(*(stands.get(one, one) for one in arguments))
    refused(done)
    assert all(one.isprintable() or one == "\n" for one in done.output), ascii(done.output)


def test_name_of_a_log_is_told_without_its_commands(call, mine):
    """A flown log's name stands in text and JSON, and neither moves the terminal."""
    log = mine.with_name(f"log{ESC}.csv")
    log.write_text(LOG)
    for form in ("text", "json"):
        done = call("fly", mine, "--log", log, "--format", form)
        assert done.exit_code == 0, done.output
        assert all(one.isprintable() or one == "\n" for one in done.output), ascii(done.output)
