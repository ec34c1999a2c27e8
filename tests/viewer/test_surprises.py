"""Whatever is typed ends in one sentence: never a traceback, never the exit of a missed must."""

import sys
from pathlib import Path

import pytest
from click.testing import CliRunner

from countersunk import shared
from countersunk.model.errors import MOST_TOLD, InputError, Problem, printable
from countersunk.model.files import surprise
from countersunk.viewer.commands import check as check_module
from countersunk.viewer.commands.main import main

STRAIGHT = (shared.KITCHENS / "straight.yaml").read_text()
LENGTH = next(line for line in STRAIGHT.splitlines() if "length:" in line)
TITLE = next(line for line in STRAIGHT.splitlines() if line.startswith("kitchen:"))


def run(*args):
    return CliRunner().invoke(main, [str(a) for a in args])


@pytest.mark.parametrize(
    ("line", "instead"),
    [
        ("length", "9" * 310), ("length", "-" + "9" * 310), ("length", "9" * 5000), ("length", "1e400"),
        ("length", ".nan"), ("length", "0b" + "1" * 2000), ("length", '"' + "9" * 310 + '"'),
        ("title", r'"\UFFFFFFFF"'), ("title", r'"\uD800"'), ("title", r'"\e[2J"'), ("title", r'"\0"'),
    ],
)  # fmt: skip
def test_a_file_with_a_strange_value_is_refused_in_printed_characters(tmp_path, line, instead):
    old, new = {
        "length": (LENGTH, LENGTH.split("length:")[0] + f"length: {instead}}}"),
        "title": (TITLE, f"kitchen: {instead}"),
    }[line]
    assert STRAIGHT.count(old) >= 1
    file = tmp_path / "strange.yaml"
    file.write_text(STRAIGHT.replace(old, new, 1))
    result = run("check", file)
    assert (result.exit_code, result.stdout) == (2, "")
    assert result.stderr.startswith("strange.yaml:")
    assert result.stderr.strip().count("\n") == 0
    assert result.stderr.strip().isprintable()


@pytest.mark.parametrize(
    "args",
    [
        ("fit", "straight", "--run", "A", "--spare", "nan", "--out", "x.yaml"),
        ("fit", "straight", "--run", "A", "--spare", "inf", "--out", "x.yaml"),
        ("quote", "straight", "--date", "9999-12-31", "--out", "x"),
        ("quote", "straight", "--wanted", "0001-01-01", "--out", "x"),
        ("cut", "--pieces", "x", "--stock", "y", "--seconds", "nan"),
        ("propose", "x", "--seconds", "inf", "--out", "x"),
        ("prices", "import", "x", "--mapping", "y", "--out", "z", "--limit", "nan"),
        ("check", "caf\udce9"),
        ("check", "a\0b"),
        ("quote", "straight", "--customer", "caf\udce9", "--out", "x"),
    ],
)
def test_an_option_out_of_its_range_is_refused(args, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    result = run(*args)
    assert result.exit_code == 2
    assert "Error: " in result.stderr
    assert "Traceback" not in result.stderr
    assert not list(tmp_path.iterdir())


def test_what_nobody_foresaw_is_kept_in_a_report(monkeypatch, tmp_path):
    def broken(*_):
        raise KeyError("a place\x1b[2J that is not there")

    monkeypatch.setattr(check_module, "opened", broken)
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    monkeypatch.setattr(sys, "argv", ["countersunk", "check", "straight"])
    result = run("check", "straight")
    assert result.exit_code == 2
    assert result.stderr.count("\n") == 1
    assert result.stderr.strip().isprintable()
    (kept,) = tmp_path.iterdir()
    assert result.stderr.rstrip().endswith(str(kept))
    text = kept.read_text()
    assert "what: KeyError" in text
    assert "Traceback" in text
    assert "'check' 'straight'" in text
    assert "version: " in text
    assert kept.stat().st_mode & 0o077 == 0 or sys.platform == "win32"


def test_a_report_that_cannot_be_written_is_said(monkeypatch, tmp_path):
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path / "gone"))
    assert "no report could be written: No such file" in surprise.told(ZeroDivisionError("seldom"))


def test_a_stop_from_the_keyboard_is_no_missed_must(monkeypatch):
    def stopped(*_):
        raise KeyboardInterrupt

    monkeypatch.setattr(check_module, "opened", stopped)
    assert run("check", "straight").exit_code == 130


def test_problems_are_told_up_to_a_number():
    error = InputError([Problem(f"field{i}", "one", "two") for i in range(50_000)], more=7)
    assert len(error.problems) == MOST_TOLD
    assert str(error).endswith(f"and {50_007 - MOST_TOLD} more problems")
    assert str(type(error)(*error.__reduce__()[1])) == str(error)


def test_a_letter_that_a_terminal_would_obey_is_written_out():
    assert printable("caf\u00e9 8\u00a0mm\u202e\x9b") == r"café 8\xa0mm\u202e\x9b".replace(r"é", "\u00e9")


def test_a_surprise_in_the_app_is_told_with_its_report(monkeypatch, tmp_path):
    from streamlit.testing.v1 import AppTest

    from countersunk.viewer.app import bar

    def broken(*_):
        raise KeyError("not there")

    monkeypatch.setattr(bar, "files", broken)
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    script = Path(bar.__file__).parent / "app.py"
    page = AppTest.from_file(str(script), default_timeout=30).run()
    assert not page.exception
    (told,) = [error.value for error in page.error if "mistake in the program" in error.value]
    (kept,) = tmp_path.glob("countersunk-report-*.txt")
    assert kept.stem.replace("-", "") in told.replace("\\", "").replace("-", "")
