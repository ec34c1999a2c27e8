"""``countersunk job``: a job from the call to the last payment, by its commands alone."""

from __future__ import annotations

import json
import re

import pdfplumber
import pytest
from click.testing import CliRunner

from countersunk import shared
from countersunk.viewer.commands.main import main


@pytest.fixture
def run(tmp_path, monkeypatch):
    monkeypatch.setenv("COUNTERSUNK_STORE", str(tmp_path / "store" / "jobs.sqlite"))

    def command(*args: str, code: int = 0) -> str:
        result = CliRunner().invoke(main, ["job", *map(str, args)])
        assert result.exit_code == code, result.output
        return result.stdout if code == 0 else result.stderr

    return command


def test_a_job_is_opened_found_and_closed(run):
    call = run("new", "--customer", "A. Reader", "--street", "1 Example Row", "--date", "2026-03-02")
    assert call == "2026-0001\n"
    run("note", "2026-0001", "wants the hob on gas")
    run("close", "2026-0001", "--lost", "--note", "moved house")
    (head,) = json.loads(run("list", "--search", "READER row", "--state", "lost", "--json"))
    assert (head["number"], head["entries"]) == ("2026-0001", 3)
    assert run("list", "--state", "won", code=2).startswith("--state: found 'won'; allowed: enquiry, drawn")
    assert run("show", "2026-0009", code=2).startswith("job: found '2026-0009'")
    assert "lost: moved house" in run("show", "2026-0001")
    run("note", "2026-0001", "[red]not[/] markup")
    assert "[red]not[/] markup" in run("show", "2026-0001")


def test_a_kitchen_comes_out_as_it_went_in(run, tmp_path):
    run("new", "--customer", "A. Reader")
    number = json.loads(run("list", "--json"))[0]["number"]
    run("save", number, "straight", "--on", "0")
    assert "added by" in run("save", number, "corner", "--on", "0", code=2)
    run("file", number, "--out", tmp_path / "kitchen.yaml")
    assert (tmp_path / "kitchen.yaml").read_bytes() == (shared.KITCHENS / "straight.yaml").read_bytes()
    run("export", number, "--out", tmp_path / "out")
    run("import", tmp_path / "out")
    run("backup", tmp_path / "copy.sqlite")
    assert "a new name" in run("backup", tmp_path / "copy.sqlite", code=2)


@pytest.mark.slow
def test_a_job_is_quoted_accepted_varied_invoiced_and_paid(run, tmp_path):
    run("new", "--customer", "A. Reader", "--date", "2026-03-02")
    run("save", "2026-0001", "straight")
    run("quote", "2026-0001", "--no-stills", "--date", "2026-03-03", "--out", tmp_path / "quote")
    assert "whose quote was accepted" in run("invoice", "2026-0001", "--out", tmp_path / "i", code=2)
    assert "no options" in run("accept", "2026-0001", "--customer", "A.", "--choose", "Gold", code=2)
    run("accept", "2026-0001", "--customer", "A. Reader", "--date", "2026-03-09")
    run("vary", "2026-0001", "a socket more", "--net", "45.50", "--rate", "20", "--customer", "A. Reader")
    words = (shared.PRICES / "terms.yaml").read_text().replace('locale: ""', "locale: de_DE")
    (tmp_path / "terms.yaml").write_text(words)
    for stage in ("1", "2", "3"):
        run("invoice", "2026-0001", "--stage", stage, "--date", "2026-04-01", "--out", tmp_path / "invoices",
            "--terms", tmp_path / "terms.yaml")  # fmt: skip
    account = json.loads(run("account", "2026-0001", "--json"))
    printed = json.loads((tmp_path / "quote" / "quote.json").read_text())["quote"]["gross"].replace(",", "")
    assert account["accepted"] == printed
    assert account["variations"] == "54.60"
    assert account["not_asked_for_yet"] == "0.00"
    run("paid", "2026-0001", account["asked_for"], "--how", "transfer", "--invoice", "INV-2026-0003")
    assert json.loads(run("account", "2026-0001", "--json"))["owed"] == "0.00"
    assert sorted(path.name for path in (tmp_path / "invoices").glob("*.pdf")) == [
        f"INV-2026-000{i}.pdf" for i in (1, 2, 3)
    ]
    with pdfplumber.open(tmp_path / "invoices" / "INV-2026-0001.pdf") as paper:
        printed = paper.pages[0].extract_text()
    assert "Issued on 1. April 2026." in printed
    assert re.search(r"To pay \d\.\d{3},\d\d €", printed)
    run("export", "2026-0001", "--out", tmp_path / "out")
    kept = {path.read_bytes() for path in (tmp_path / "out").glob("*.pdf")}
    assert {path.read_bytes() for path in (tmp_path / "quote").glob("*.pdf")} <= kept


@pytest.mark.slow
def test_a_change_after_the_order_is_told_piece_by_piece(run, tmp_path):
    run("new", "--customer", "A. Reader")
    number = json.loads(run("list", "--json"))[0]["number"]
    run("save", number, "corner")
    run("quote", number, "--no-stills", "--out", tmp_path / "quote")
    assert "whose quote was accepted" in run("order", number, "--out", tmp_path / "orders", code=2)
    run("accept", number, "--customer", "A. Reader")
    assert run("order", number, "--out", tmp_path / "orders").count("ordered") == 3
    assert len(list((tmp_path / "orders").glob("ORD-*.pdf"))) == 3
    assert "everything is ordered" in run("order", number, "--out", tmp_path / "more")
    text = (shared.KITCHENS / "corner.yaml").read_text()
    (tmp_path / "longer.yaml").write_text(text.replace("length: 3600", "length: 3604"))
    run("save", number, tmp_path / "longer.yaml")
    assert run("changes", number).splitlines()[3:] == [
        "  new: T1, T2; sheets and lengths for them cost 175.99 EUR without tax",
        "  left over: T1, T2",
    ]
    first = json.loads(run("orders", number, "--json"))[0]["order"]
    run("confirm", number, first, "--comes", "2026-04-01")
    run("receive", number, first, "--short", "1:1")
    assert [row["line"] for row in json.loads(run("orders", number, "--json")) if row["order"] == first] == [1]


@pytest.mark.slow
def test_offcuts_are_reserved_used_up_and_kept(run, tmp_path):
    run("new", "--customer", "A. Reader")
    number = json.loads(run("list", "--json"))[0]["number"]
    run("save", number, "straight")
    (tmp_path / "kept.csv").write_text("id,material,decor,length,width,quantity\na,pb18,,2000,1000,1\n")

    def stock(*args: str) -> str:
        result = CliRunner().invoke(main, ["stock", *args])
        assert result.exit_code == 0, result.output
        return result.stdout

    assert stock("add", str(tmp_path / "kept.csv")) == "1\n"
    assert run("reserve", number) == run("reserve", number) == f"{number}: reserved 1\n"
    assert "in stock" in run("cut", number)
    assert "cut before" in run("cut", number, code=2)
    rows = json.loads(stock("list", "--all", "--json"))
    assert (rows[0]["standing"], rows[0]["job"]) == ("taken", number)
    assert all(row["standing"] == "free" for row in rows[1:])
    assert "reserved, job" in stock("ledger", "1")
    numbers = [str(row["number"]) for row in rows[1:]]
    assert stock("count", *numbers) == "the books are right\n"
    assert stock("count", *numbers[1:]).startswith(f"offcut {numbers[0]}: missing")
