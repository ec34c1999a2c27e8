"""``countersunk cut``: the contract of its files and its answer, and what it says to bad ones."""

from __future__ import annotations

import json

import pytest
from click.testing import CliRunner

from countersunk.takeoff.cutting import Blade, CutPiece, CutStock, cut_lengths
from countersunk.viewer.commands.main import main
from tests.takeoff.cutting.published import hopper, sheets

LENGTHS = "id,length,quantity\nT1,1905,1\nT2,2100,2\n=SUM(A1),222.5,1\n"
STOCK = "id,length,price,quantity\nshort,2400,68.40,\nlong,4100,112.4,2\n"
PANELS = "id,length,width,quantity,rotate\nside,720,560,3,no\nback,700,500,2,yes\n"
BOARDS = "id,length,width,price,quantity\nboard,2800,2070,41.5,\n"


@pytest.fixture
def run(tmp_path):
    def call(pieces, stock, *options):
        for name, text in (("pieces.csv", pieces), ("stock.csv", stock)):
            (tmp_path / name).write_bytes(text if isinstance(text, bytes) else text.encode())
        paths = ["--pieces", str(tmp_path / "pieces.csv"), "--stock", str(tmp_path / "stock.csv")]
        return CliRunner().invoke(main, ["cut", *paths, *options])

    return call


def answered(result):
    assert result.exit_code == 0, result.output
    return json.loads(result.stdout)


def test_lengths_as_json(run):
    # by hand: T1 + T2 take 4019 of a long, and 222.5 has room beside T2 on a short only
    found = answered(run(LENGTHS, STOCK, "--kerf", "4", "--trim", "5", "--json"))
    assert found.pop("seconds") >= 0
    assert found == {
        "used": [
            {"stock": "short", "cuts": [
                {"id": "T2", "at": 5, "length": 2100}, {"id": "=SUM(A1)", "at": 2109, "length": 222.5},
            ]},
            {"stock": "long", "cuts": [
                {"id": "T2", "at": 5, "length": 2100}, {"id": "T1", "at": 2109, "length": 1905},
            ]},
        ],
        "stock_count": 2, "cost": 180.8, "lower_bound": 180.8, "proven": True,
    }  # fmt: skip


def test_sheets_as_json(run):
    found = answered(run(PANELS, BOARDS, "--kerf", "4", "--trim", "10", "--json"))
    assert (found["stock_count"], found["cost"], found["lower_bound"], found["proven"]) == (1, 41.5, 41.5, True)
    cuts = found["used"][0]["cuts"]
    assert sorted(c["id"] for c in cuts) == ["back", "back", "side", "side", "side"]
    assert set(cuts[0]) == {"id", "x", "y", "length", "width", "rotated"}
    assert (cuts[0]["x"], cuts[0]["y"]) == (10, 10)


def test_published_sheet_through_the_command(run):
    pieces, _ = hopper(turns=False)
    rows = "\n".join(f"{p.id},{p.length},{p.width},1,0" for p in pieces)
    found = answered(
        run(PANELS.splitlines()[0] + "\n" + rows, "id,length,width,price,quantity\ns,20,20,1,\n", "--json")
    )
    assert (found["cost"], found["proven"]) == (1, True)


def test_value_of_one_sheet(run):
    pieces, _, optimum = sheets("Beasley 1985, ngcut1")
    rows = "\n".join(f"{p.id},{p.length},{p.width},{p.quantity},no,{p.value}" for p in pieces)
    header = "id,length,width,quantity,rotate,value\n"
    found = answered(run(header + rows, "id,length,width,price,quantity\ns,10,10,9.5,1\n", "--json"))
    assert list(found) == ["used", "stock_count", "cost", "lower_bound", "proven", "value", "seconds"]
    assert (found["value"], found["proven"]) == (optimum, True)
    assert (found["cost"], found["lower_bound"], found["stock_count"]) == (9.5, 9.5, 1)


@pytest.mark.parametrize("stock", ["s,100,1,", "s,100,1,2", "s,100,1,1\nt,100,1,1"])
def test_values_without_a_single_stock_are_said_to_be_left_aside(run, stock):
    pieces = "id,length,quantity,value\na,60,1,9\nb,60,1,1\n"
    result = run(pieces, f"id,length,price,quantity\n{stock}\n", "--json")
    assert json.loads(result.stdout)["stock_count"] == 2
    assert "value" not in json.loads(result.stdout)
    assert result.stderr.startswith("The values are left aside: they count where")


def test_values_of_a_single_stock_choose_what_is_cut(run):
    pieces = "id,length,quantity,value\na,60,1,9\nb,60,1,1\n"
    result = run(pieces, "id,length,price,quantity\ns,100,1,1\n", "--json")
    assert answered(result)["used"] == [{"stock": "s", "cuts": [{"id": "a", "at": 0, "length": 60}]}]
    assert result.stderr == ""


def test_a_panel_keeps_its_grain_where_nothing_is_said_of_it(run):
    # 700 across and 400 along would fit turned only
    panels = "id,length,width,quantity,rotate\na,400,700,1,{}\n"
    boards = "id,length,width,price,quantity\nb,800,500,1,\n"
    assert answered(run(panels.format("yes"), boards, "--json"))["used"][0]["cuts"][0]["rotated"] is True
    assert run(panels.format(""), boards).exit_code == 2


def test_nothing_is_taken_for_saw_and_trim_unless_it_is_said(run):
    found = answered(run("id,length,quantity\na,500,2\n", "id,length,price,quantity\nb,1000,1,\n", "--json"))
    assert (found["stock_count"], found["proven"]) == (1, True)


def test_hundredths_are_exact(run):
    # 3 x 333.33 = 999.99 fits a bar of 999.99 and not one of 999.98
    pieces = "id,length,quantity\na,333.33,3\n"
    assert answered(run(pieces, "id,length,price,quantity\nb,999.99,1,\n", "--json"))["stock_count"] == 1
    assert answered(run(pieces, "id,length,price,quantity\nb,999.98,1,\n", "--json"))["stock_count"] == 2


def test_columns_may_stand_in_any_order_and_a_mark_before_them(run):
    pieces = "﻿quantity, Length ,id\n2, 500 ,a\n".encode()
    assert answered(run(pieces, "id,length,price,quantity\nb,1000,1,\n", "--json"))["stock_count"] == 1


def test_tables_name_cuts_offcut_and_bound(run):
    result = run(LENGTHS, STOCK, "--kerf", "4", "--trim", "5")
    assert "1 × short, 2400" in result.output
    assert "T1  1905  at 2109" in result.output
    assert "2 lengths, cost 180.8; less is impossible." in result.output
    result = run(PANELS, BOARDS, "--kerf", "4", "--trim", "10")
    assert "1 sheet; fewer is impossible. Cost 41.5." in result.output
    assert "Saw in order: " in result.output
    assert "Offcuts: " in result.output


def test_ids_that_look_like_markup_are_text(run):
    result = run("id,length,quantity\n[red]a,500,1\n", "id,length,price,quantity\n[b]x,1000,1,\n")
    assert "[red]a" in result.output
    assert "[b]x" in result.output


def test_help_says_what_is_taken_where_nothing_is_said():
    text = CliRunner().invoke(main, ["cut", "--help"]).output
    assert "[default: 0]" in text
    assert "id,length,width,quantity,rotate" in text


BAD = [
    ("id,length\na,500\n", STOCK, "pieces.csv:1: header: found no column 'quantity'"),
    ("id,length,quantity,colour\na,5,1,red\n", STOCK, "pieces.csv:1: header: found column 'colour'"),
    ("id,length,length,quantity\na,5,5,1\n", STOCK, "pieces.csv:1: header: found twice column 'length'"),
    ("", STOCK, "pieces.csv:1: header: found nothing"),
    ("id,length,quantity\n", STOCK, "pieces.csv: file: found no rows"),
    ("id,length,quantity\na,NaN,1\n", STOCK, "pieces.csv:2: length: found 'NaN'"),
    ("id,length,quantity\na,inf,1\n", STOCK, "pieces.csv:2: length: found 'inf'"),
    ("id,length,quantity\na,-5,1\n", STOCK, "pieces.csv:2: length: found '-5'"),
    ("id,length,quantity\na,0,1\n", STOCK, "pieces.csv:2: length: found '0'"),
    ("id,length,quantity\na,1e3,1\n", STOCK, "pieces.csv:2: length: found '1e3'"),
    ('id,length,quantity\na,"22,5",1\n', STOCK, "pieces.csv:2: length: found '22,5'"),
    ("id,length,quantity\na,5,0\n", STOCK, "pieces.csv:2: quantity: found '0'"),
    ("id,length,quantity\na,5,1.5\n", STOCK, "pieces.csv:2: quantity: found '1.5'"),
    ("id,length,quantity\na,5,\n", STOCK, "pieces.csv:2: quantity: found ''"),
    ("id,length,quantity\na,5,999999\n", STOCK, "pieces.csv: quantity: found 999999 in all"),
    ("id,length,quantity\n,5,1\n", STOCK, "pieces.csv:2: id: found ''"),
    ("id,length,quantity\na,5,1\nb,5,1\na,6,1\n", STOCK, "pieces.csv:4: id: found 'a' again, as in line 2"),
    ("id,length,quantity\na,5\n", STOCK, "pieces.csv:2: row: found 2 cells"),
    ('id,length,quantity\n"a,5,1\n', STOCK, "pieces.csv:2: row: found a quote that is not closed"),
    (b"id,length,quantity\n\xff,5,1\n", STOCK, "pieces.csv: file: found a byte that is not UTF-8"),
    (b"id,length,quantity\n" + b"a,5,1\n" * 200_000, STOCK, "pieces.csv: file: found more than 1 MB"),
    ("id,length,quantity\na,4101,1\n", STOCK, "pieces.csv:2: length: found 'a' of 4101, which fits no stock"),
    (LENGTHS, "id,length,quantity\nb,5,1\n", "stock.csv:1: header: found no column 'price'"),
    (LENGTHS, "id,length,price,quantity\nb,5000,-1,\n", "stock.csv:2: price: found '-1'"),
    (LENGTHS, "id,length,price,quantity\nb,5000,,\n", "stock.csv:2: price: found ''"),
    (LENGTHS, "id,length,price,quantity\nb,2400,1,2\n", "stock.csv: quantity: found 2 × b, on which"),
    (LENGTHS, BOARDS, "pieces.csv:1: header: found no column 'width', which the other file has"),
    (PANELS, STOCK, "stock.csv:1: header: found no column 'width', which the other file has"),
    ("id,length,width,quantity\na,5,5,1\n", BOARDS, "pieces.csv:1: header: found no column 'rotate'"),
    ("id,length,width,quantity,rotate\na,5,5,1,maybe\n", BOARDS, "pieces.csv:2: rotate: found 'maybe'"),
    ("id,length,width,quantity,rotate\na,2000,2100,1,no\n", BOARDS, "pieces.csv:2: length: found 'a' of 2000 x 21"),
    (PANELS, BOARDS.replace("41.5,", "41.5,0"), "stock.csv: quantity: found 0 × board, on which"),
]  # fmt: skip


@pytest.mark.parametrize(("pieces", "stock", "said"), BAD, ids=[said[:60] for *_, said in BAD])
def test_bad_input_ends_in_one_clear_message(run, pieces, stock, said):
    result = run(pieces, stock, "--json")
    assert result.exit_code == 2
    assert result.stderr.startswith(said), result.stderr
    assert "; allowed: " in result.stderr
    assert result.stdout == ""
    assert result.exception is None or isinstance(result.exception, SystemExit)


@pytest.mark.parametrize("option", [("--kerf", "nan"), ("--kerf", "-1"), ("--trim", "1e9"), ("--kerf", "51")])
def test_bad_options_end_in_one_clear_message(run, option):
    result = run(LENGTHS, STOCK, *option)
    assert result.exit_code == 2
    assert result.stderr.startswith(f"{option[0]}: found '{option[1]}'; allowed: millimetres")


def test_missing_file_is_named(tmp_path):
    result = CliRunner().invoke(main, ["cut", "--pieces", str(tmp_path / "no.csv"), "--stock", str(tmp_path)])
    assert result.exit_code == 2
    assert "found no such file or directory" in result.stderr


def test_every_problem_is_told_at_once(run):
    result = run("id,length,quantity\na,x,1\nb,5,y\n", STOCK)
    assert [line.split(": found")[0] for line in result.stderr.splitlines()] == [
        "pieces.csv:2: length", "pieces.csv:3: quantity",
    ]  # fmt: skip


def test_time_limit_keeps_the_promise_of_the_bound(run):
    found = answered(run(PANELS, BOARDS, "--seconds", "0", "--json"))
    assert found["lower_bound"] <= found["cost"]


def test_offcut_for_nothing_is_used_before_new_stock():
    stocks = [CutStock("offcut", 1000, 0, 1), CutStock("new", 2400, 684)]
    assert cut_lengths([CutPiece("a", 900)], stocks, Blade(4, 5)).bought == {"offcut": 1}


KEPT = "id,material,decor,length,width,quantity\nrest,pb18,,1500,800,1\nother,pb15,,2800,2070,1\n"


def test_offcuts_are_taken_first_and_what_is_left_is_written(run, tmp_path):
    # by hand: the five panels of PANELS need a board; a single back of 700 x 500 lies on the offcut
    (tmp_path / "kept.csv").write_text(KEPT)
    options = ("--offcuts", str(tmp_path / "kept.csv"), "--keep", str(tmp_path / "next.csv"), "--material", "pb18")
    back = "id,length,width,quantity,rotate\nback,700,500,1,no\n"
    found = answered(run(back, BOARDS, "--kerf", "4", "--trim", "10", "--json", *options))
    assert ([u["stock"] for u in found["used"]], found["cost"], found["proven"]) == (["rest"], 0, True)
    # sawn edges are not trimmed again: the cut of 4 beside the back leaves 796 x 800, and 296 above it
    assert (tmp_path / "next.csv").read_text().splitlines()[1:] == [
        "other,pb15,,2800,2070,1,0", "pb18.700x296,pb18,,700,296,1,0", "pb18.796x800,pb18,,796,800,1,0",
    ]  # fmt: skip


def test_what_is_left_of_lengths_is_stock_again(run, tmp_path):
    # by hand: of 4100 are left 4100 - 5 - 3009 - 4 - 5 = 1077, as deep as that worktop is sold, and of the offcut
    # 2500 - 1600 - 4 = 896, since its ends are sawn already, as wide as that was and of its decor
    old, new = tmp_path / "kept.csv", tmp_path / "next.csv"
    old.write_text("id,material,decor,length,width,quantity\nlong,pf38.600,salt-terrazzo,2500,590,1\n")
    options = ("--kerf", "4", "--trim", "5", "--json", "--keep", str(new), "--offcuts")
    pieces, bars = "id,length,quantity\na,3009,1\nb,1600,1\n", "id,length,price,quantity\nbar,4100,100,\n"
    run(pieces, bars, "--material", "pf38.600", *options, str(old))
    assert new.read_text().splitlines()[1:] == [
        "pf38.600.1077x600,pf38.600,,1077,600,1,0",
        "pf38.600.salt-terrazzo.896x590,pf38.600,salt-terrazzo,896,590,1,0",
    ]
    again = run("id,length,quantity\nc,1000,1\n", bars, "--material", "pf38.600", *options, str(new))
    assert ([u["stock"] for u in answered(again)["used"]], answered(again)["cost"]) == (["pf38.600.1077x600"], 0)
    unknown = run(pieces, bars, "--material", "plinth", *options, str(old))
    assert unknown.stderr.startswith("--material: found 'plinth'; allowed: a worktop where lengths are kept: ")


def test_offcuts_need_the_material_that_is_meant(run, tmp_path):
    (tmp_path / "kept.csv").write_text(KEPT)
    result = run(PANELS, BOARDS, "--offcuts", str(tmp_path / "kept.csv"))
    assert result.exit_code == 2
    assert result.stderr.startswith("--material: found ''; allowed: small letters")


def test_an_offcut_named_as_a_stock_is_told(run, tmp_path):
    (tmp_path / "kept.csv").write_text(KEPT.replace("rest", "board"))
    result = run(PANELS, BOARDS, "--offcuts", str(tmp_path / "kept.csv"), "--material", "pb18")
    assert result.exit_code == 2
    assert result.stderr.startswith("offcuts:1: id: found 'board' again")


def test_takeoff_takes_offcuts_first_and_writes_what_is_left(tmp_path):
    (tmp_path / "kept.csv").write_text(
        "id,material,decor,length,width,quantity\ntop,pf38.600,salt-terrazzo,4100,600,1\n"
    )
    paths = ["--offcuts", str(tmp_path / "kept.csv"), "--keep", str(tmp_path / "next.csv"), "--json"]
    result = CliRunner().invoke(main, ["takeoff", "straight", *paths])
    assert result.exit_code == 0, result.output
    bars = [bar for plan in json.loads(result.stdout)["worktops"] for bar in plan["bars"]]
    assert [(bar["offcut"], bar["price"]) for bar in bars] == [("top", "0")]
    left = (tmp_path / "next.csv").read_text()
    assert "\ntop," not in left
    assert "\npb18." in left


def test_a_quote_orders_nothing_for_what_lies_in_the_workshop(tmp_path):
    (tmp_path / "kept.csv").write_text(
        "id,material,decor,length,width,quantity\ntop,pf38.600,salt-terrazzo,4100,600,1\n"
    )
    out, kept = tmp_path / "out", ["--offcuts", str(tmp_path / "kept.csv"), "--keep", str(tmp_path / "next.csv")]
    result = CliRunner().invoke(main, ["quote", "straight", "--out", str(out), "--no-stills", *kept])
    assert result.exit_code == 0, result.output
    assert result.stdout.splitlines()[-1] == str(tmp_path / "next.csv")
    assert "\ntop," not in (tmp_path / "next.csv").read_text()
    lines = json.loads((out / "quote.json").read_text())["takeoff"]["quantities"]
    assert [line["charge"]["net"] for line in lines if line["item"].startswith("offcut")] == ["0.00"]
    assert not any(line["item"].startswith("pf38.600") for line in lines)
