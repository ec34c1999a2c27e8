"""The commands: what they print and write, and how they end."""

import json
import os
import re
import subprocess
import sys

import pdfplumber
import pytest
from click.testing import CliRunner
from openpyxl import load_workbook

from countersunk import shared
from countersunk.model.document.schema import Document
from countersunk.model.files.manifest import MANIFEST
from countersunk.viewer.commands.main import COMMANDS, main
from countersunk.viewer.commands.serving import server_arguments

GROUPS = {"catalogue", "job", "prices"}

HEAVY = "numpy", "shapely", "pydantic", "pandas", "scipy", "openpyxl", "rich", "streamlit", "vtkmodules", "trimesh"
"""Libraries that take long to load."""


def run(*args):
    return CliRunner().invoke(main, [str(a) for a in args])


@pytest.mark.parametrize("command", sorted(COMMANDS.keys() - GROUPS))
def test_help_has_an_example(command):
    result = run(command, "--help")
    assert result.exit_code == 0
    assert f"countersunk {command}" in result.output.split("Example:")[1]


def test_the_list_of_commands_names_each_and_loads_none():
    output = run("--help").output
    assert all(f"\n  {name} " in output for name in COMMANDS)
    assert _loaded_by("--help") == set()


@pytest.mark.slow
def test_a_check_loads_nothing_of_pricing_drawing_or_the_app():
    assert _loaded_by("check", "straight") == {"numpy", "shapely", "pydantic", "rich"}


def _loaded_by(*args):
    """Which of the heavy libraries a command loads, in a process of its own."""
    script = (
        "import sys\n"
        "from countersunk.viewer.commands.main import main\n"
        f"main({list(args)}, standalone_mode=False)\n"
        "print(*sys.modules, sep='\\n', file=sys.stderr)"
    )
    where = str(shared.FOLDER.parent)
    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=True, cwd=where,
        env={**os.environ, "PYTHONPATH": where},
    )  # fmt: skip
    return set(HEAVY) & set(done.stderr.split())


def test_schema_is_that_of_the_document():
    data = json.loads(run("schema").stdout)
    assert data["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert data["properties"].keys() == Document.model_fields.keys()


def test_build_writes_everything_it_names(tmp_path):
    result = run("build", "straight", "--out", tmp_path / "out", "--no-stills")
    assert result.exit_code == 0, result.stderr
    written = {p.name for p in (tmp_path / "out").iterdir()}
    assert written == {"kitchen.glb", "findings.json", "takeoff.xlsx", "takeoff.csv", MANIFEST}
    assert (tmp_path / "out" / "kitchen.glb").read_bytes()[:4] == b"glTF"
    assert load_workbook(tmp_path / "out" / "takeoff.xlsx").sheetnames
    assert json.loads((tmp_path / "out" / "findings.json").read_text())["findings"]


@pytest.mark.slow
def test_draw_writes_the_papers(tmp_path):
    result = run("draw", "corner", "--out", tmp_path / "papers", "--templates", "a3")
    assert result.exit_code == 0, result.stderr
    written = {p.name for p in (tmp_path / "papers").iterdir()}
    assert {"drawings.pdf", "templates.pdf", "T1-underside.dxf", "T2-top.svg", "J1.dxf", "plan.svg"} <= written
    with pdfplumber.open(tmp_path / "papers" / "templates.pdf") as opened:
        assert {round(max(page.width, page.height) * 25.4 / 72) for page in opened.pages} == {420}
    assert run("draw", "corner", "--out", tmp_path / "papers", "--templates", "a5").exit_code == 2


@pytest.mark.slow
def test_survey_says_what_became_of_the_measurements():
    result = run("survey", "corner")
    assert result.exit_code == 0, result.stderr
    assert "The survey closes to 1 mm" in result.stdout
    told = " ".join(result.stdout.split())
    assert "and with no mistake in a reading, every run fits with over 99 %" in told
    assert "might not show and would leave run A 7 mm short" in told
    told = json.loads(run("survey", "corner", "--json").stdout)
    assert [w["wall"] for w in told["walls"]] == ["A", "B", "C", "D"]
    assert told["runs"][0]["between"] == ["wall D", "wall B"]
    assert told["runs"][0]["probability"]["drawn"] == 1.0


def test_survey_is_drawn(tmp_path):
    result = run("survey", "straight", "--out", str(tmp_path))
    assert result.exit_code == 0
    assert sorted(path.name for path in tmp_path.iterdir()) == ["survey.dxf", "survey.pdf", "survey.svg"]


@pytest.mark.slow
def test_survey_says_how_much_is_left():
    told = " ".join(run("survey", "loft").stdout.split())
    assert "Left is what stays of spare and give with readings off as far as is allowed for" in told
    runs = json.loads(run("survey", "loft", "--json").stdout)["runs"]
    assert {"along", "behind"} == {fit["way"] for fit in runs}
    for fit in runs:
        assert fit["left"] == pytest.approx(fit["spare"] + fit["fillers"] - 2 * fit["sigma"], abs=0.03)


@pytest.mark.slow
def test_units_flush_between_two_others_fit_whichever_way_it_is_counted(tmp_path):
    # Run B of this demo hangs between two panels, with 0 to spare give or take the last bit of a float.
    file = tmp_path / "cottonwood.yaml"
    file.write_text((shared.KITCHENS / "cottonwood.yaml").read_text().replace("lengths: inch\n", ""))
    flush = json.loads(run("survey", file, "--json").stdout)["runs"][-1]
    assert (flush["spare"], flush["probability"]) == (0.0, {"linear": 1.0, "drawn": 1.0})
    assert (str(flush["spare"]), str(flush["left"])) == ("0.0", "0.0")
    told = run("survey", file).stdout
    row = next(line for line in told.splitlines() if "hung run B │ run B" in line)
    assert [cell.strip() for cell in row.split("│")[3:8]] == ["0", "0", "0.0", "0", "over 99 %"]
    assert "every run fits with over 99 %" in " ".join(told.split())


def test_a_run_without_an_end_has_no_number_for_it(tmp_path):
    file = tmp_path / "open.yaml"
    file.write_text(
        "kitchen: One wall, invented\nroom: {walls: [{name: A, length: 3000}]}\n"
        "runs: [{wall: A, units: [{unit: base-doors, width: 1000}]}]\n"
        "worktop: {stock: pf38.600, decor: pale-oak}\nfronts: {decor: sage}\n"
    )
    told = run("survey", file).stdout
    assert "no end" in told
    assert "inf" not in told


@pytest.mark.slow
def test_survey_tells_what_to_measure_again(tmp_path):
    file = tmp_path / "niche.yaml"
    file.write_text(
        "kitchen: A niche, invented\n"
        "room:\n"
        "  walls: [{name: Z, length: 2000, corner: 89.5}, {name: A, length: 2415, corner: 89.5}, "
        "{name: B, length: 2000}]\n"
        "runs: [{wall: A, start: 8, units: [{unit: base-doors, width: 1000}, {unit: base-doors, width: 800}, "
        "{unit: base-doors, width: 600}]}]\n"
        "worktop: {stock: pf38.600, decor: pale-oak}\n"
        "fronts: {decor: sage}\n"
    )
    result = run("survey", file)
    assert "measure corner Z-A again before you cut" in " ".join(result.stdout.split())
    assert json.loads(run("survey", file, "--json").stdout)["misclosure"] is None


def test_show_writes_one_page_for_one_version_or_two(tmp_path):
    result = run("show", "corner", "--beside", "straight", "--out", tmp_path / "kitchen.html")
    assert result.exit_code == 0, result.stderr
    page = (tmp_path / "kitchen.html").read_text()
    assert page.startswith("<!doctype html>")
    assert "<title>Lantern Cottage, an L with a corner of 91.2° and Ferry Steps 2" in page


def test_check_and_takeoff_as_json():
    found = json.loads(run("check", "corner", "--json").stdout)
    assert {"caution", "findings"} == found.keys()
    assert {"rule", "verdict", "limit", "margin", "source"} <= found["findings"][0].keys()
    taken = json.loads(run("takeoff", "corner", "--json").stdout)
    assert taken["quantities"]
    assert taken["complete"] is True


@pytest.mark.slow
def test_check_by_region_and_by_own_rules(tmp_path):
    found = json.loads(run("check", "island", "--region", "uk", "--json").stdout)["findings"]
    assert {f["region"] for f in found} == {"plain", "uk"}
    assert "United Kingdom" in run("check", "island", "--region", "uk").stdout.replace("\n", " ")
    assert "No region is chosen" in run("check", "island").stdout
    firm = tmp_path / "firm.yaml"
    firm.write_text(
        "rules:\n  - {id: ours, question: Is it wide?, measure: walkways.doorway, sense: at least, limit: 2000,"
        " unit: mm, severity: must, source: {name: our own, status: practice}}\n"
    )
    result = run("check", "island", "--rules", firm, "--json")
    assert result.exit_code == 1
    assert "ours" in {f["rule"] for f in json.loads(result.stdout)["findings"]}
    firm.write_text("rules: [{id: ours}]\n")
    result = run("check", "island", "--rules", firm)
    assert result.exit_code == 2
    assert result.stderr.startswith("firm.yaml:1: rules[0].question: found nothing")
    assert run("check", "island", "--region", "mars").exit_code == 2


def test_tables_for_the_terminal_name_what_they_show():
    assert "varnish" in run("takeoff", "corner").stdout
    assert "hob" in run("check", "corner").stdout


def test_takeoff_prints_money_to_the_cent_and_says_where_a_price_is_missing(tmp_path, monkeypatch):
    # by hand: 9 pairs of runners at 16.90 are 152.10, less 2.5 %, which is 3.80; the legs have no price
    monkeypatch.setenv("COLUMNS", "240")
    book = (shared.PRICES / "demo.csv").read_text().splitlines()
    (tmp_path / "book.csv").write_text("\n".join(line for line in book if not line.startswith("leg.")))
    printed = run("takeoff", "corner", "--prices", tmp_path / "book.csv").stdout.splitlines()
    cells = {
        line.split("│")[1].strip(): [c.strip() for c in line.split("│")[2:]] for line in printed if "│" in line
    }
    assert cells["drawer runners 500"][:4] == ["9", "pair", "9 × pair", "148.30"]
    assert cells["adjustable leg 150"][3] == "no price"


def test_a_must_not_met_ends_with_1(tmp_path):
    text = (shared.KITCHENS / "corner.yaml").read_text()
    near = tmp_path / "near.yaml"
    near.write_text(text.replace("unit: base-drawers, width: 500", "unit: tall-larder, width: 500"))
    assert run("check", near).exit_code == 1
    assert run("check", "corner").exit_code == 0


@pytest.mark.parametrize("command", ["check", "takeoff", "build --out never", "draw --out never", "app"])
def test_bad_input_is_one_line_on_stderr_and_ends_with_2(command, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    bad = tmp_path / "bad.yaml"
    bad.write_text((shared.KITCHENS / "corner.yaml").read_text().replace("cooks: 2", "cokes: 2"))
    result = run(*command.split(), bad)
    assert result.exit_code == 2
    assert result.stdout == ""
    assert result.stderr.startswith("bad.yaml:4: cokes: found an unknown key; allowed: ")
    assert "Try: 'cooks'." in result.stderr
    assert not (tmp_path / "never").exists()


def test_a_folder_that_cannot_be_made_is_told(tmp_path):
    (tmp_path / "file").write_text("")
    result = run("build", "corner", "--out", tmp_path / "file" / "in", "--no-stills")
    assert result.exit_code == 2
    assert "Traceback" not in result.stderr


def test_the_server_stays_on_this_machine_and_tells_nobody():
    command = server_arguments("corner", 8600, browser=False)
    assert "--server.address=localhost" in command
    assert "--browser.gatherUsageStats=false" in command
    assert [word for word in command if "Hosts" in word][-1] == "--server.allowedHosts=::1"
    assert run("app", "--host", "*").exit_code == 2
    assert command[-1].endswith("corner.yaml")


@pytest.mark.slow
def test_the_console_shows_no_library_warnings(tmp_path):
    done = subprocess.run(
        [
            sys.executable,
            "-W",
            "default",
            "-m",
            "countersunk.viewer.commands.main",
            "build",
            "corner",
            "--out",
            tmp_path,
            "--no-stills",
        ],
        capture_output=True,
        text=True,
        check=False,
        cwd=shared.FOLDER.parent,
        env={**os.environ, "PYTHONPATH": str(shared.FOLDER.parent)},
    )
    assert done.returncode == 0, done.stderr
    assert "arning" not in done.stderr
    assert "Traceback" not in done.stderr


OWN_UNIT = """adds_to: metric
families:
  - {code: odd, name: base unit, construction: box, level: floor, height: 720, depth: 560, legs: 150, widths: [350],
     carries_top: true, doors: true}
"""


@pytest.fixture
def own_kitchen(tmp_path):
    """A kitchen file with a unit of a firm's own catalogue, which is not beside it, and that catalogue."""
    own = tmp_path / "elsewhere" / "workshop"
    own.mkdir(parents=True)
    (own / "units.yaml").write_text(OWN_UNIT)
    text = (shared.KITCHENS / "straight.yaml").read_text()
    old = next(line for line in text.splitlines() if "unit: base-doors" in line)
    file = tmp_path / "own.yaml"
    file.write_text(text.replace(old, re.sub(r"base-doors, width: \d+", "odd", old), 1))
    return file, own


@pytest.mark.slow
@pytest.mark.parametrize("command", ["check", "takeoff", "survey", "joins"])
def test_every_command_takes_a_firms_own_catalogue(own_kitchen, command):
    file, own = own_kitchen
    refused = run(command, file, "--json")
    assert refused.exit_code == 2
    assert "found 'odd'" in refused.stderr
    done = run(command, file, "--json", "--catalogue", own)
    assert done.exit_code in (0, 1), done.stderr
    assert json.loads(done.stdout)


@pytest.mark.slow
def test_files_are_changed_and_written_by_a_firms_own_catalogue(own_kitchen, tmp_path):
    file, own = own_kitchen
    for command, *args in (
        ("mirror", "--out", tmp_path / "mirrored.yaml"),
        ("build", "--out", tmp_path / "built", "--no-stills"),
    ):
        done = run(command, file, *args, "--catalogue", own)
        assert done.exit_code == 0, done.stderr
    assert "unit: odd" in (tmp_path / "mirrored.yaml").read_text()
    assert (tmp_path / "built" / "kitchen.glb").exists()


def test_a_catalogue_that_is_not_there_is_said(tmp_path):
    done = run("check", "straight", "--catalogue", tmp_path / "none")
    assert done.exit_code == 2
    assert "found no such folder; allowed: one of units.yaml" in done.stderr


@pytest.mark.slow
def test_a_start_of_a_catalogue_is_written_once_and_can_be_used(tmp_path):
    folder = tmp_path / "workshop"
    assert run("catalogue", "new", folder).exit_code == 0
    again = run("catalogue", "new", folder)
    assert again.exit_code == 2
    assert "units.yaml, boards.yaml" in again.stderr
    checked = run("catalogue", "check", folder)
    assert checked.exit_code == 0
    assert checked.stdout.startswith("Can be used: ")
    (folder / "units.yaml").write_text((folder / "units.yaml").read_text().replace("550", "-550"))
    wrong = run("catalogue", "check", folder, "--json")
    assert wrong.exit_code == 2
    assert "units.yaml:" in json.loads(wrong.stdout)["problems"][0]
