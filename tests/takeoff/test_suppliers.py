"""A supplier's list becomes a price book: what is read, what is refused, and where."""

from dataclasses import replace
from decimal import Decimal

import pytest

from countersunk import shared
from countersunk.model.errors import InputError
from countersunk.takeoff.counting.takeoff import estimate
from countersunk.takeoff.stock.price_changes import price_changes, refuse_jumps
from countersunk.takeoff.stock.prices import demo_prices, price_book
from countersunk.takeoff.stock.suppliers import import_list, into_book
from tests.takeoff.by_hand import small_kitchen

LIST = """Artikel;Bezeichnung;Preis;Steuer
4711 22;Topfband 110°;1.234,50;20
4711-23;"Griff; matt";4,85;20
99;was wir nicht führen;1,00;20
"""
MAPPING = """supplier: North Quay (invented)
currency: EUR
date: "2026-02-01"
tax: 20
delimiter: ";"
decimal: ","
headings: {number: Artikel, description: Bezeichnung, price: Preis, tax: Steuer}
articles:
  - {number: "4711 22", code: hinge, unit: each, pack: 2, packs: 100}
  - {number: "4711-23", code: handle.bar, unit: each}
"""


@pytest.fixture
def files(tmp_path):
    def write(text=LIST, mapping=MAPPING, encoding="utf-8"):
        (tmp_path / "list.csv").write_bytes(text.encode(encoding))
        (tmp_path / "map.yaml").write_text(mapping, encoding="utf-8")
        return tmp_path / "list.csv", tmp_path / "map.yaml"

    return write


def refused(paths):
    with pytest.raises(InputError) as error:
        import_list(*paths)
    return str(error.value)


def test_numbers_units_and_packs_of_ours(files):
    imported = import_list(*files())
    hinge, handle = imported.prices
    # 1 234.50 for 100 packs of 2: 12.345 a pack.
    assert (hinge.code, hinge.price, hinge.pack, hinge.unit) == ("hinge", Decimal("12.3450"), 2, "each")
    assert (handle.description, handle.price) == ("Griff; matt", Decimal("4.85"))
    assert handle.supplier == "North Quay (invented)"
    assert imported.left_out == 1


def test_a_pack_is_as_exact_as_it_was_typed(files):
    # six figures make 2.98389 of it, which is another pack than the article's
    imported = import_list(*files(mapping=MAPPING.replace("unit: each, pack: 2,", "unit: m2, pack: 2.983894,")))
    assert str(imported.prices[0].pack) == "2.983894"


def test_the_book_is_read_again_and_keeps_what_the_list_has_not(files):
    raw = into_book(import_list(*files()), demo_prices(), "")
    book = price_book(raw, "book.csv")
    assert book.prices["hinge"].price == Decimal("12.3450")
    assert book.prices["hinge"].supplier == "North Quay (invented)"
    assert book.prices["tap"] == demo_prices().prices["tap"]
    assert book.note == demo_prices().note
    alone = price_book(into_book(import_list(*files()), None, "Imported."), "book.csv")
    assert (set(alone.prices), alone.note) == ({"hinge", "handle.bar"}, "Imported.")


def test_the_invented_list_goes_into_the_invented_book():
    imported = import_list(shared.SUPPLIERS / "list.csv", shared.SUPPLIERS / "mapping.yaml")
    book = price_book(into_book(imported, demo_prices(), ""), "book.csv")
    # 138.50 for a hundred hinges is 2.77 for a pack of two.
    assert {code: str(book.prices[code].price) for code in ("hinge", "runner.500", "handle.bar", "screw.4x30")} == {
        "hinge": "2.7700", "runner.500": "17.60", "handle.bar": "5.05", "screw.4x30": "7.10",
    }  # fmt: skip
    assert imported.left_out == 1
    assert estimate(small_kitchen(), book).totals.complete


def test_latin_1_is_read_when_the_mapping_says_so(files):
    assert "encoding: latin-1 in the mapping" in refused(files(encoding="latin-1"))
    paths = files(encoding="latin-1", mapping=MAPPING + "encoding: latin-1\n")
    assert import_list(*paths).prices[0].description == "Topfband 110°"


def test_a_comma_is_never_taken_for_thousands_by_mistake(files):
    said = refused(files(mapping=MAPPING.replace('decimal: ","', 'decimal: "."')))
    assert "list.csv:3: price: found '4,85 by decimal .'" in said
    assert "list.csv:2: price: found '1.234,50 by decimal .'" in said


def test_a_rate_of_the_mapping_holds_where_the_list_has_none(files):
    paths = files(mapping=MAPPING.replace(", tax: Steuer", "").replace("tax: 20", "tax: 7.5"))
    assert import_list(*paths).prices[0].tax == Decimal("7.5")


def test_the_list_and_the_book_in_two_currencies(files):
    imported = import_list(*files(mapping=MAPPING.replace("EUR", "NZD")))
    with pytest.raises(InputError, match="allowed: one currency in a book: EUR"):
        into_book(imported, demo_prices(), "")


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("4,85", "vier", "list.csv:3: price: found 'vier by decimal ,'; allowed: a number from 0"),
        ("4,85", "-4,85", "list.csv:3: price: found '-4,85 by decimal ,'; allowed: a number from 0"),
        ("4,85", "4.85", "list.csv:3: price: found '4.85 by decimal ,'; allowed: a number from 0"),
        ("1.234,50", "1.23,50", "list.csv:2: price: found '1.23,50 by decimal ,'; allowed: a number from 0"),
        ("4,85", "", "list.csv:3: price: found ''; allowed: a number from 0"),
        ("1.234,50", "NaN", "list.csv:2: price: found 'NaN by decimal ,'; allowed: a number from 0"),
        ("1.234,50;20", "1.234,50;120", "list.csv:2: tax: found '120'; allowed: a rate in percent"),
        ("4711-23", "4711 22", "list.csv:3: number: found '4711 22' twice; allowed: each number once"),
        ("4711-23", "4711-24", "map.yaml:10: articles[1].number: found '4711-23', which list.csv does not have"),
        ("Preis", "Netto", "list.csv:1: header: found Artikel, Bezeichnung, Netto, Steuer; allowed: Preis"),
        ("4,85;20", "4,85", "list.csv:3: row: found 3 fields; allowed: 4, as the header has"),
        ('"Griff; matt"', '"Griff; matt', "row: found"),
    ],
)
def test_list_at_fault(files, old, new, said):
    assert old in LIST
    assert said in refused(files(text=LIST.replace(old, new, 1)))


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        (
            "code: handle.bar",
            "code: hinge",
            "map.yaml:10: articles[1].code: found 'hinge' twice",
        ),
        ("unit: each, pack", "unit: dozen, pack", "list.csv:2: unit: found 'dozen'; allowed: m, m2"),
        ('date: "2026-02-01"', 'date: "2026-02-30"', "date: found '2026-02-30'; allowed: a day as YYYY-MM-DD"),
        ("supplier:", "suplier:", "map.yaml:1: suplier: found an unknown key"),
        ("packs: 100", "packs: 0", "articles[0].packs: found 0; allowed: a whole number from 1"),
    ],
)
def test_mapping_at_fault(files, old, new, said):
    assert old in MAPPING
    assert said in refused(files(mapping=MAPPING.replace(old, new, 1)))


def test_a_list_that_is_not_there(tmp_path):
    (tmp_path / "map.yaml").write_text(MAPPING, encoding="utf-8")
    with pytest.raises(InputError, match=r"none\.csv: file: found no such file or directory"):
        import_list(tmp_path / "none.csv", tmp_path / "map.yaml")


# Six ugly lists, as offices send them: each is read rightly, or refused with the row. All are invented.
UGLY_MAPPING = """supplier: North Quay (invented)
currency: EUR
date: "2026-02-01"
tax: 20
delimiter: ";"
decimal: ","
headings: {number: No, description: Text, price: Price}
articles:
  - {number: "1", code: hinge, unit: each, pack: 2}
  - {number: "2", code: handle.bar, unit: each}
"""
ROWS = "1;Hinge;1.234,50\n2;Handle;4,85\n"


def prices_in(paths):
    return [str(price.price) for price in import_list(*paths).prices]


def test_a_list_with_a_mark_before_it_titles_above_its_header_and_blank_lines(files):
    text = f"\ufeffNorth Quay price list;;\n;valid from February;\n\nNo;Text;Price\n{ROWS}"
    assert prices_in(files(text=text, mapping=UGLY_MAPPING)) == ["1234.50", "4.85"]


def test_an_amount_marked_with_another_currency_is_refused(files):
    text = "No;Text;Price\n1;Hinge;€ 1.234,50\n2;Handle;$ 7,10\n"
    assert "list.csv:3: price: found '$7,10, which is not in EUR'" in refused(
        files(text=text, mapping=UGLY_MAPPING)
    )
    text = "No;Text;Price\n1;Hinge;EUR 1.234,50\n2;Handle;Fr. 7,10\n"
    assert "list.csv:3: price: found 'Fr.7,10, which is not in EUR'" in refused(
        files(text=text, mapping=UGLY_MAPPING)
    )


def test_a_row_in_another_currency_is_refused_by_its_column(files):
    mapping = UGLY_MAPPING.replace("price: Price}", "price: Price, currency: Cur}")
    text = "No;Text;Price;Cur\n1;Hinge;1.234,50;EUR\n2;Handle;4,85;CHF\n"
    assert "list.csv:3: Cur: found 'CHF'; allowed: EUR or €" in refused(files(text=text, mapping=mapping))
    assert prices_in(files(text=text.replace("CHF", "€"), mapping=mapping)) == ["1234.50", "4.85"]


def test_a_price_for_another_quantity_is_refused_by_its_column(files):
    mapping = UGLY_MAPPING.replace("price: Price}", "price: Price, per: Per}")
    text = "No;Text;Price;Per\n1;Hinge;1.234,50;2\n2;Handle;4,85;10\n"
    assert "list.csv:3: Per: found '10'; allowed: 1 packs or 1 each" in refused(files(text=text, mapping=mapping))
    assert prices_in(files(text=text.replace(";10", ";1"), mapping=mapping)) == ["1234.50", "4.85"]


def test_a_list_of_another_encoding_says_which(files):
    text = "No;Text;Price\n" + ROWS
    assert "encoding: utf-16 in the mapping" in refused(files(text=text, mapping=UGLY_MAPPING, encoding="utf-16"))
    paths = files(text=text, mapping=UGLY_MAPPING + "encoding: utf-16\n", encoding="utf-16")
    assert prices_in(paths) == ["1234.50", "4.85"]


def test_codes_that_come_twice_are_refused_with_the_row(files):
    text = f"No;Text;Price\n{ROWS}1;Hinge, old;1.100,00\n"
    assert "list.csv:4: number: found '1' twice" in refused(files(text=text, mapping=UGLY_MAPPING))


# By hand: 2.95 to 2.77 is -0.18 / 2.95 = -6.1 %; 7.95 to 1234 is 15 422.0 %.
def test_the_changes_of_a_book_are_told_the_greatest_first():
    before = demo_prices()
    old = [before.prices[code] for code in ("hinge", "silicone", "tap")]
    new = [
        replace(old[0], price=old[0].price * 2), replace(old[1], price=Decimal(1234)),
        replace(old[2], code="tap.new"), old[2],
    ]  # fmt: skip
    book = replace(before, prices={price.code: replace(price, supplier="S") for price in old})
    changes = price_changes([replace(price, supplier="S") for price in new], book)
    assert [(c.code, c.percent) for c in changes] == [
        ("silicone", Decimal("15422.0")), ("hinge", Decimal("100.0")), ("tap.new", None),
    ]  # fmt: skip
    with pytest.raises(InputError, match=r"silicone: found 7.95 → 1234 for 310 mL, \+15422.0 %") as error:
        refuse_jumps(changes, 25)
    assert len(error.value.problems) == 2
    refuse_jumps(changes, 20_000)
    assert [c.code for c in price_changes([replace(new[3], supplier="S")], book)] == ["hinge", "silicone"]


def test_a_price_of_another_unit_is_a_jump_whatever_it_is():
    silicone = demo_prices().prices["silicone"]
    by_litre = replace(silicone, unit="L", pack=Decimal("0.31"))
    with pytest.raises(InputError, match=r"7\.95 for 310 mL → 7\.95 for 0\.31 L"):
        refuse_jumps(price_changes([by_litre], demo_prices()), 1_000_000)
