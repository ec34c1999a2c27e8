"""Commands leave all that they were asked for, or what was there before: whenever they end, whatever they lack."""

import os
import random
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner

from countersunk import shared
from countersunk.model.planning import propose as planning
from countersunk.takeoff.counting import takeoff as counting
from countersunk.takeoff.plans import cut_plans as plans
from countersunk.takeoff.report import report, workbook
from countersunk.viewer.commands import making as commands
from countersunk.viewer.commands import propose as proposing
from countersunk.viewer.commands.main import main
from countersunk.viewer.commands.start import start
from countersunk.viewer.drawing import fit_report, papers
from countersunk.viewer.quoting import quote as quoting
from countersunk.viewer.scene import scene as scenes
from tests.ending import exit_code, interrupted, kill_after, stopped_after, with_files_of, without_rights
from tests.lanes import KILLS, some

KITCHEN = (
    "kitchen: {name}, invented\nroom: {{walls: [{{name: A, length: 3000}}]}}\n"
    "runs: [{{wall: A, units: [{{unit: base-doors, width: {width}}}]}}]\n"
    "worktop: {{stock: pf38.600, decor: pale-oak}}\nfronts: {{decor: sage}}\n"
)
ROOM = shared.FOLDER / "rooms" / "ordinary.yaml"

FOLDERS = {
    "build": ["--no-stills"],
    "draw": [],
    "quote": ["--no-stills", "--date", "2026-01-05", "--accept", "hinge"],
    "check": [],
    "propose": ["--seconds", "1"],
}
"""Every command that writes a folder."""

FILES = [
    "takeoff", "saw", "quote", "cut", "mirror", "compare", "prices", "joins", "fit", "show", "actuals",
]  # fmt: skip
"""Every command that replaces a file, but `cure`, which does it as `fit` does."""

PRINTING = (["check"], ["takeoff"], ["joins"], ["cure"], ["check", "--json"])
"""What only prints about a kitchen."""

OPEN = KITCHEN.format(name="open", width=600).replace(", width: 600", "")
MAPPING = (
    'supplier: North\ncurrency: EUR\ndate: "2026-02-01"\ntax: 20\ndelimiter: ";"\n'
    "headings: {number: no, description: name, price: price}\n"
    'articles: [{number: "17", code: hinge, unit: each, pack: 2}]\n'
)

FAILING = some([(c, o) for c in ("build", "draw", "quote", "check", "propose") for o in ("closed", "/dev/full")], 6)
"""Commands and outputs that cannot be written."""

SLOW = [
    (scenes, "scene"), (counting, "take_off"), (report, "xlsx_bytes"), (report, "csv_bytes"), (plans, "cut_plans"),
    (papers, "all_papers"), (quoting, "take_off"), (quoting, "quote_files"), (fit_report, "fit_report"),
    (planning, "propose"), (commands.checks, "check"), (proposing, "as_data"), (workbook, "comparison_bytes"),
]  # fmt: skip
"""What makes the bytes, and nothing of what puts them in their place."""


KITCHENS, MADE = {}, {}
"""What has been read and made in this process, by the name of its file and by what it is made from."""


@pytest.fixture
def quickly(monkeypatch):
    """Bytes are made once for each kitchen, in this process: a kill meets the writing of them, and each run writes
    the same. In a child the libraries that make them would wait for threads that only this process has."""
    read = commands.opened

    def remembered(file):
        name = file.rpartition("/")[2]
        if name not in KITCHENS:
            KITCHENS[name] = read(file)
        return KITCHENS[name]

    for module in ("making", "check", "quote"):
        monkeypatch.setattr(f"countersunk.viewer.commands.{module}.opened", remembered)
    for module, name in SLOW:
        monkeypatch.setattr(module, name, _remembered(getattr(module, name)))


def _remembered(function):
    def remembered(about, *args, **kwargs):
        key = function, about.kitchen if isinstance(about, planning.Brief) else id(about)
        if key not in MADE:
            MADE[key] = (about, function(about, *args, **kwargs))  # what it is about stays, and so does its id
        return MADE[key][1]

    return remembered


def files(tmp_path):
    """A kitchen and another, for propose a room and another."""
    made = []
    for name, width in (("first", 600), ("second", 800)):
        kitchen, room = tmp_path / f"{name}.yaml", tmp_path / f"{name}-room.yaml"
        kitchen.write_text(KITCHEN.format(name=name, width=width))
        room.write_text(ROOM.read_text().replace("kitchen: ", f"kitchen: {name} ", 1))
        made.append((kitchen, room))
    return made


def asked(command, kitchen, room, out):
    place = ["--report", out] if command == "check" else ["--out", out]
    return [str(a) for a in (command, room if command == "propose" else kitchen, *place, *FOLDERS[command])]


def run(arguments):
    """The command in this process, ending as in a terminal."""
    main(arguments, standalone_mode=True)


def ran(arguments):
    result = CliRunner().invoke(main, arguments)
    assert result.exit_code in (0, 1), result.output
    return result


def bytes_in(folder):
    return {p.name: p.read_bytes() for p in folder.iterdir()}


@pytest.mark.slow
@pytest.mark.parametrize("command", some(list(FOLDERS), 3))
@pytest.mark.usefixtures("quickly")
def test_killed_at_random_moments_a_folder_holds_one_kitchen(tmp_path, command):
    (first, second), out = files(tmp_path), tmp_path / "out"
    whole = []
    for kitchen in (second, first):
        ran(asked(command, *kitchen, out))
        whole.append(bytes_in(out))
    old, new = whole[1], whole[0]
    assert old != new
    assert all(not name.endswith("-yours") for name in (*old, *new))
    mine = out / "mine.txt"
    mine.write_text("mine")
    kept = {"mine.txt": b"mine"}
    dice, killed, changed, longest = random.Random(command), 0, 0, 0.4
    for _ in range(20 * KILLS):
        if killed >= KILLS:
            break
        if kill_after(lambda: run(asked(command, *second, out)), dice.uniform(0, longest)):
            killed += 1
            longest *= 1.03
        else:
            longest *= 0.9  # so that most kills meet the command at work, and many as it changes the folder over
        found = bytes_in(out)
        assert found in ({**old, **kept}, {**new, **kept})
        changed += found == {**new, **kept}
        ran(asked(command, *first, out))
        assert bytes_in(out) == {**old, **kept}
    assert killed == KILLS
    assert [p.name for p in tmp_path.iterdir() if p.name.startswith(".")] == []
    print(f"{command}: {killed} killed, {changed} of all runs had changed the folder over")


@pytest.mark.slow
@pytest.mark.parametrize("command", FOLDERS)
@pytest.mark.usefixtures("quickly")
def test_a_disk_that_takes_no_more_leaves_the_folder_as_it_was(tmp_path, command):
    (first, second), out = files(tmp_path), tmp_path / "out"
    ran(asked(command, *first, out))
    before = bytes_in(out)
    ran(asked(command, *second, tmp_path / "elsewhere"))
    assert not with_files_of(300, lambda: run(asked(command, *second, out)))
    assert bytes_in(out) == before


@pytest.mark.slow
@pytest.mark.parametrize(("command", "output"), FAILING)
@pytest.mark.usefixtures("quickly")
def test_nothing_changes_where_standard_output_fails(tmp_path, command, output):
    (first, second), out = files(tmp_path), tmp_path / "out"
    ran(asked(command, *first, out))
    before = bytes_in(out)
    ran(asked(command, *second, tmp_path / "elsewhere"))
    assert exit_code(lambda: run(asked(command, *second, out)), output) != 0
    assert bytes_in(out) == before
    assert [p.name for p in tmp_path.iterdir() if p.name.startswith(".")] == []


@pytest.mark.slow
@pytest.mark.parametrize("command", FOLDERS)
@pytest.mark.usefixtures("quickly")
def test_a_folder_without_permission_stays_as_it_was(tmp_path, command):
    (first, second), place = files(tmp_path), tmp_path / "place"
    place.mkdir()
    out = place / "out"
    ran(asked(command, *first, out))
    before = bytes_in(out)
    ran(asked(command, *second, tmp_path / "elsewhere"))
    for path in (tmp_path, *(p for p in tmp_path.parents if p.name.startswith("pytest-"))):
        path.chmod(0o755)  # so that another user comes as far as the folder itself
    for path in (out, place):
        path.chmod(0o555)
    try:
        assert not without_rights(lambda: run(asked(command, *second, out)))
    finally:
        for path in (out, place):
            path.chmod(0o755)
    assert bytes_in(out) == before
    assert [p.name for p in place.iterdir()] == ["out"]


@pytest.mark.slow
@pytest.mark.parametrize("command", FOLDERS)
@pytest.mark.usefixtures("quickly")
def test_a_file_in_the_place_of_the_folder_stays(tmp_path, command):
    kitchen, room = files(tmp_path)[0]
    out = tmp_path / "out"
    out.write_text("mine")
    result = CliRunner().invoke(main, asked(command, kitchen, room, out))
    assert result.exit_code == 2
    assert "found a file; allowed: a folder, or a name that is free. Try: another name." in result.stderr
    assert out.read_text() == "mine"


def written_by(command, kitchen, to, tmp_path):
    """The arguments of a command that replaces one file."""
    pieces, stock = tmp_path / "pieces.csv", tmp_path / "stock.csv"
    pieces.write_text("id,length,quantity\na,700,2\n")
    stock.write_text("id,length,price,quantity\nb,3000,30,\n")
    open_, spent, listed, words = (tmp_path / name for name in ("open.yaml", "spent.csv", "list.csv", "map.yaml"))
    open_.write_text(OPEN)
    spent.write_text("kind,code,amount\nhours,length,2.5\n")
    listed.write_text("no;name;price\n17;hinge of a supplier;3.10\n")
    words.write_text(MAPPING)
    return {
        "joins": ["joins", kitchen, "--pin", "1", "--out", to],
        "show": ["show", kitchen, "--out", to],
        "fit": ["fit", open_, "--run", "A", "--out", to],
        "actuals": ["actuals", kitchen, "--csv", spent, "--write", to],
        "prices": ["prices", "import", listed, "--mapping", words, "--out", to],
        "takeoff": ["takeoff", kitchen, "--keep", to],
        "cut": ["cut", "--pieces", pieces, "--stock", stock, "--keep", to, "--material", "sq40.650"],
        "mirror": ["mirror", kitchen, "--out", to],
        "saw": ["saw", kitchen, "--out", to],
        "compare": ["compare", kitchen, kitchen, "--xlsx", to],
        "quote": ["quote", kitchen, "--no-stills", "--out", tmp_path / "out", "--keep", to, "--accept", "hinge"],
    }[command]


@pytest.mark.parametrize("output", some(["closed", "/dev/full"], 2))
@pytest.mark.parametrize("command", some(FILES, 2))
@pytest.mark.usefixtures("quickly")
def test_a_file_is_not_replaced_where_standard_output_fails(tmp_path, command, output):
    kitchen, to = files(tmp_path)[0][0], tmp_path / "kept"
    to.write_bytes(b"before")
    arguments = [str(a) for a in written_by(command, kitchen, to, tmp_path)]
    ran([a.replace(str(tmp_path / "out"), str(tmp_path / "elsewhere")) for a in arguments])
    to.write_bytes(b"before")
    assert exit_code(lambda: run(arguments), output) != 0
    assert to.read_bytes() == b"before"
    assert not (tmp_path / "out").exists()
    ran(arguments)
    assert to.read_bytes() != b"before"
    assert [p.name for p in tmp_path.iterdir() if p.name.startswith(".")] == []


def test_an_output_that_cannot_be_written_is_one_clear_line(tmp_path):
    kitchen, said = files(tmp_path)[0][0], tmp_path / "said"

    def work():
        sys.stderr = said.open("w", buffering=1)
        run(["mirror", str(kitchen), "--out", str(tmp_path / "out.yaml")])

    assert exit_code(work, "/dev/full") == 2
    assert said.read_text() == "not done: standard output: No space left on device\n"


def test_a_file_in_the_place_of_a_folder_and_a_folder_in_that_of_a_file(tmp_path):
    kitchen = str(files(tmp_path)[0][0])
    (tmp_path / "file").write_text("mine")
    result = CliRunner().invoke(main, ["build", kitchen, "--no-stills", "--out", str(tmp_path / "file")])
    assert result.exit_code == 2
    assert "file: found a file; allowed: a folder, or a name that is free. Try: another name." in result.stderr
    result = CliRunner().invoke(main, ["mirror", kitchen, "--out", str(tmp_path)])
    assert result.exit_code == 2
    assert "found a folder; allowed: a file, or a name that is free. Try: another name." in result.stderr


def replacing(command, tmp_path):
    """The arguments of a command that replaces a file, the file, and what it then holds; it says ``before``."""
    to = tmp_path / "kept"
    to.write_bytes(b"before")
    arguments = [str(a) for a in written_by(command, files(tmp_path)[0][0], to, tmp_path)]
    ran(arguments)
    made = to.read_bytes()
    to.write_bytes(b"before")
    assert made != b"before"
    return arguments, to, made


@pytest.mark.slow
@pytest.mark.parametrize("command", some(FILES, 4))
@pytest.mark.usefixtures("quickly")
def test_killed_at_random_moments_a_file_is_the_old_or_the_new(tmp_path, command):
    arguments, to, made = replacing(command, tmp_path)
    dice, killed, changed, longest = random.Random(command), 0, 0, 0.2
    for _ in range(20 * KILLS):
        if killed >= KILLS:
            break
        was = to.read_bytes()
        if kill_after(lambda: run(arguments), dice.uniform(0, longest)):
            killed += 1
            longest *= 1.03
        else:
            longest *= 0.9
        found = to.read_bytes()
        assert found in (was, made)
        changed += found != was
        to.write_bytes(b"before")
    assert killed == KILLS
    left = [p for p in tmp_path.iterdir() if p.name.startswith(".")]
    for path in left:  # as an hour later
        os.utime(path, (0, 0))
    ran(arguments)
    assert [p.name for p in tmp_path.iterdir() if p.name.startswith(".")] == []
    print(f"{command}: {killed} killed, {changed} of all runs had replaced the file, {len(left)} left a rest")


@pytest.mark.slow
@pytest.mark.parametrize("command", some(FILES, 4))
@pytest.mark.usefixtures("quickly")
def test_a_file_stays_where_the_disk_is_full_or_the_place_may_not_be_written(tmp_path, command):
    place = tmp_path / "place"
    place.mkdir()
    arguments, to, _ = replacing(command, tmp_path)
    there = place / "kept"
    to.rename(there)
    arguments = [str(there) if a == str(to) else a for a in arguments]
    for path in (tmp_path, *(p for p in tmp_path.parents if p.name.startswith("pytest-"))):
        path.chmod(0o755)

    def told():
        sys.stdout = sys.stderr = Path(os.devnull).open("w")  # noqa: SIM115
        run(arguments)

    assert not with_files_of(20, told)
    place.chmod(0o555)
    try:
        assert not without_rights(told)
    finally:
        place.chmod(0o777)
    there.chmod(0o444)  # write-protected by its owner, in a folder that may be written
    assert not without_rights(told)
    assert there.read_bytes() == b"before"
    assert [p.name for p in place.iterdir()] == ["kept"]


@pytest.mark.slow
@pytest.mark.parametrize("command", some([*FOLDERS, *FILES], 5))
@pytest.mark.usefixtures("quickly")
def test_ctrl_c_at_random_moments_ends_a_command_quietly(tmp_path, command):
    """All is old or new, nothing lies beside it, and the last word is no traceback."""
    if command in FOLDERS:
        (first, second), out = files(tmp_path), tmp_path / "out"
        ran(asked(command, *second, out))
        after = bytes_in(out)
        ran(asked(command, *first, out))
        before, arguments, again = bytes_in(out), asked(command, *second, out), asked(command, *first, out)
    else:
        arguments, to, made = replacing(command, tmp_path)
        before, after = b"before", made
    dice, said, stopped, longest = random.Random(command), tmp_path / "said", 0, 0.2
    for _ in range(20 * KILLS):
        if stopped >= KILLS:
            break
        code = stopped_after(lambda: run(arguments), dice.uniform(0.005, longest), said)
        stopped += code == 130
        longest *= 1.03 if code == 130 else 0.9
        assert code in (0, 1, 130)
        assert "Traceback" not in said.read_text()
        if command in FOLDERS:
            assert bytes_in(out) in (before, after)
            ran(again)
        else:
            assert to.read_bytes() in (before, after)
            to.write_bytes(before)
        assert [p.name for p in tmp_path.iterdir() if p.name.startswith(".")] == []
    assert stopped == KILLS


def test_ctrl_c_while_the_commands_are_loaded(monkeypatch):
    class Stopped:
        @staticmethod
        def find_spec(name, *_):
            if name == "countersunk.viewer.commands.main":
                raise KeyboardInterrupt

    monkeypatch.delitem(sys.modules, "countersunk.viewer.commands.main")
    monkeypatch.setattr(sys, "meta_path", [Stopped, *sys.meta_path])
    with pytest.raises(SystemExit) as ended:
        start()
    assert ended.value.code == 130


@pytest.mark.slow
@pytest.mark.parametrize("asked_for", some(PRINTING, 3), ids=" ".join)
def test_ctrl_c_ends_what_only_prints(tmp_path, asked_for):
    kitchen, said, codes = str(files(tmp_path)[0][0]), tmp_path / "said", set()
    for turn in range(KILLS):
        codes.add(stopped_after(lambda: run([asked_for[0], kitchen, *asked_for[1:]]), 0.005 + 0.01 * turn, said))
        assert "Traceback" not in said.read_text()
    assert codes <= {0, 1, 130}
    assert 130 in codes


@pytest.mark.usefixtures("quickly")
def test_ctrl_c_leaves_nothing_half_done(tmp_path):
    kitchen, out = files(tmp_path)[0][0], tmp_path / "out"
    ran(asked("draw", kitchen, None, tmp_path / "elsewhere"))
    for number in (5, 12, 20):
        assert interrupted(lambda: run(asked("draw", kitchen, None, out)), number)
        assert sorted(p.name for p in tmp_path.iterdir() if p.suffix != ".yaml") == ["elsewhere"]


@pytest.mark.slow
def test_sheets_of_another_kitchen_go_after_a_draw_that_failed(tmp_path, monkeypatch):
    (first, second), out = files(tmp_path), tmp_path / "out"
    ran(asked("draw", *first, out))
    before = bytes_in(out)
    with monkeypatch.context() as patch:
        patch.setattr(papers, "labels_pdf", lambda *_: 1 / 0)
        assert CliRunner().invoke(main, asked("draw", *second, out)).exit_code == 2
    assert bytes_in(out) == before
    ran(asked("draw", *second, tmp_path / "elsewhere"))
    ran(asked("draw", *second, out))
    assert bytes_in(out) == bytes_in(tmp_path / "elsewhere")
